// The sources of a page, numbered: of its figures first, then of its cautions.

import type { ComponentChildren } from "preact";
import { createContext } from "preact";
import { useContext } from "preact/hooks";
import type { Caution, SourceOf } from "./api.js";

export interface Numbered {
    n: number;
    text: string;
    of: string[];
}

const KEY = /\[([a-z0-9_]+)\]/g;

/** What a caution names: its keys, or the words that stand for a source. */
export function named(source: string): string[] {
    const keys = [...source.matchAll(KEY)].map((m) => m[1]!);
    return keys.length > 0 ? keys : [source || "no source is known"];
}

/** Without the marks that the list of sources is written with. */
function plain(text: string): string {
    return text.replace(/[*`]/g, "").replace(/[:.]$/, "");
}

/** Each source once, in the order in which the page needs it; cautions add those that no figure rests on. */
export function numbered(figures: readonly SourceOf[], cautions: readonly Caution[]): Numbered[] {
    const at = new Map<string, Numbered>();
    const add = (id: string, text: string, of: readonly string[]) => {
        const old = at.get(id) ?? { n: at.size + 1, text, of: [] };
        old.of.push(...of.filter((x) => !old.of.includes(x)));
        at.set(id, old);
    };
    for (const s of figures) add(s.key ?? s.title, s.key ? `${plain(s.title)} [${s.key}]` : s.title, s.of);
    for (const c of cautions)
        for (const id of named(c.source)) add(id, c.source.includes(`[${id}]`) ? `[${id}]` : id, [c.what]);
    return [...at.values()];
}

/** "Source 3", "Sources 1, 2 and 4" of what is named in a list. */
export function sourceWords(list: readonly Numbered[], of: string): string {
    const n = list.filter((s) => s.of.includes(of)).map((s) => String(s.n));
    if (n.length < 2) return n.length === 0 ? "" : `Source ${n[0]}`;
    return `Sources ${n.slice(0, -1).join(", ")} and ${n[n.length - 1]}`;
}

/** The list of the page that a caution or a figure stands on. */
export const OnPage = createContext<readonly Numbered[]>([]);

/** On paper only: the number of a source, where the page has a list of them. */
export function Cite({ of, instead = "" }: { of: string; instead?: string }) {
    const words = sourceWords(useContext(OnPage), of) || instead;
    return words ? <span class="on-paper cite">{words}.</span> : null;
}

/** A page, its citations, and at its end the list that they are numbered in. */
export function WithSources({ list, children }: { list: readonly Numbered[]; children: ComponentChildren }) {
    return (
        <OnPage.Provider value={list}>
            {children}
            <Sources list={list} />
        </OnPage.Provider>
    );
}

export function Sources({ list }: { list: readonly Numbered[] }) {
    if (list.length === 0) return null;
    return (
        <section class="on-paper sources" aria-label="Sources">
            <h2>Sources</h2>
            <ol>
                {list.map((s) => (
                    <li value={s.n}>
                        {s.text}. For: {s.of.join(", ")}.
                    </li>
                ))}
            </ol>
        </section>
    );
}
