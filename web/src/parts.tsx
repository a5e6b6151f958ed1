// Small parts that every page uses.

import type { ComponentChildren } from "preact";
import { useContext, useEffect, useId, useState } from "preact/hooks";
import type { Caution, Problem } from "./api.js";
import { get, Refusal } from "./api.js";
import type { Figure } from "./figure.js";
import { rounded } from "./figure.js";
import { Cite } from "./sources.js";
import { HeldHere, sourcesOf, Worst, WorstCases, worstOf } from "./worst.js";

export function Mark() {
    return (
        <svg class="mark" viewBox="0 0 28 28" width="28" height="28" aria-hidden="true">
            <path class="mark-line" d="M5 3v22M5 6h17v4M5 22h17v-4" />
            <path class="mark-pip" d="M9 14c2-4 9-4 9 0s-7 4-9 0z" />
        </svg>
    );
}

/** "likely between 20 and 25" */
export function Likely({ figure, unit = "" }: { figure: Figure; unit?: string }) {
    const r = rounded(figure);
    if (r.exact) return null;
    return (
        <p class="likely">
            likely between{" "}
            <b>
                {r.low} and {r.high}
                {unit ? `\u2009${unit}` : ""}
            </b>
        </p>
    );
}

// Braces, names with underscores, members in quotes: words for those who write programs.
const FOR_PROGRAMS = /[{}[\]]|\bJSON|[a-z]_[a-z]|"[a-z_]+":|\/api\//;

/** What the program says of a request, without what only a programmer can act on. */
export function forPeople(p: Problem): Problem {
    const { why, try: hint, ...rest } = p;
    const out: Problem = { ...rest };
    if (FOR_PROGRAMS.test(p.what)) out.what = "This page asked for something that the program does not take";
    if (why && !FOR_PROGRAMS.test(why)) out.why = why;
    if (hint && !FOR_PROGRAMS.test(hint)) out.try = hint;
    else if (hint && out.what !== p.what) out.try = "change what you filled in last, or load the page again";
    return out;
}

/** What could not be done, where, why, and what to try. */
export function Problems({ problems, id, onAgain }: { problems: Problem[]; id?: string; onAgain?: () => void }) {
    if (problems.length === 0) return null;
    const again = problems.some((p) => p.gone) ? onAgain : undefined;
    return (
        <div class="problems" role="alert" {...(id ? { id } : {})}>
            {problems.map(forPeople).map((p) => (
                <p>
                    <b>
                        {p.line && (p.file === "lines" || p.file === "text" || p.file === "recipe") ? `Line ${p.line}: ` : ""}
                        {p.line ? p.what : cap(p.what)}.
                    </b>{" "}
                    {p.why ? `${cap(p.why)}.` : ""} {p.try ? `Try this: ${p.try}.` : ""}
                </p>
            ))}
            {again ? (
                <button type="button" class="quiet again" onClick={again}>
                    Ask again
                </button>
            ) : null}
        </div>
    );
}

/** What a page shows of a sentence that quotes words of a recipe line between back quotes. */
export function quoted(text: string): string {
    return text.replace(/`([^`]*)`/g, "\u201c$1\u201d");
}

export function cap(text: string): string {
    return text.charAt(0).toUpperCase() + text.slice(1);
}

export function isGone(problems: Problem[]): boolean {
    return problems.some((p) => p.gone);
}

export function problemsOf(e: unknown): Problem[] {
    if (e instanceof Refusal) return e.problems;
    return [
        {
            what: "Something went wrong in this page",
            why: e instanceof Error ? e.message : String(e),
            try: "load the page again",
        },
    ];
}

/** Says in words that something takes longer than 400 ms; nothing spins. */
export function Waiting({ on, children }: { on: boolean; children: ComponentChildren }) {
    const [late, setLate] = useState(false);
    useEffect(() => {
        setLate(false);
        if (!on) return undefined;
        const timer = setTimeout(() => setLate(true), 400);
        return () => clearTimeout(timer);
    }, [on]);
    return (
        <p class="waiting" role="status">
            {on && late ? children : null}
        </p>
    );
}

const KEY = /\[([a-z0-9_]+)\]/g;

/** The source of a figure or caution: its words, and on demand the entry they name. */
export function Source({ text, of, children }: { text: string; of: string; children?: ComponentChildren }) {
    const [entries, setEntries] = useState<string[] | null>(null);
    const [problems, setProblems] = useState<Problem[]>([]);
    const keys = [...text.matchAll(KEY)].map((m) => m[1]!);
    const look = () => {
        if (entries !== null || keys.length === 0) return;
        Promise.all(keys.map((k) => get<{ title: string; text: string }>(`/api/source/${k}`)))
            .then((all) => {
                setEntries(all.map((x) => (x.text || x.title).replace(/\*/g, "")));
                setProblems([]);
            })
            .catch((e: unknown) => setProblems(problemsOf(e)));
    };
    return (
        <details class="source" onToggle={look}>
            <summary>
                Why, and source<span class="only-spoken">: {of}</span>
            </summary>
            {children}
            <p>
                {keys.length > 1 ? "Sources" : "Source"}: {text || "none is known"}
            </p>
            {entries?.map((e) => <p class="entry">{e}</p>)}
            <Problems problems={problems} onAgain={look} />
        </details>
    );
}

const LEVEL = { note: "Note", caution: "Caution", over: "Over the limit", stop: "Stop" } as const;

// An octagon; a mark that passes a line; a triangle.
const SIGN: Record<Caution["level"], string> = {
    stop: "M6 1h8l5 5v8l-5 5H6l-5-5V6z",
    over: "M1 12h6M13 12h6M10 19V2M5 7l5-5 5 5",
    caution: "M10 2 19 18H1zM10 8v5M10 15v1.4",
    note: "",
};

/** "at most 52 mg/kg, over 10: ...; at most 0.037 mg per kg ..." as a sentence each. */
export function sentences(because: string): string[] {
    return because.split(/; (?=at most )/).map((s) => `${cap(s)}.`);
}

/** A caution stands at its ingredient and cannot be folded away; short: told in full elsewhere on the page. */
export function CautionBox({ caution, short = false }: { caution: Caution; short?: boolean }) {
    const id = useId();
    const worst = worstOf(useContext(WorstCases), caution);
    const serving = useContext(HeldHere)?.serving_ml ?? 0;
    const told = worst ? [...new Set([caution.source, sourcesOf(worst)])].join(", ") : caution.source;
    return (
        <div class={`caution ${caution.level}`} role="note" aria-labelledby={id}>
            <p class="caution-head" id={id}>
                {SIGN[caution.level] ? (
                    <svg viewBox="0 0 20 20" width="20" height="20" aria-hidden="true">
                        <path d={SIGN[caution.level]} />
                    </svg>
                ) : null}
                <span>
                    {LEVEL[caution.level]}: {caution.what}
                </span>
            </p>
            {short ? null : (
                <>
                    {sentences(caution.because).map((s) => (
                        <p>{s}</p>
                    ))}
                    <p>
                        <Cite of={caution.what} instead={`Source: ${caution.source || "none is known"}`} />
                    </p>
                    <Source text={uniqueKeys(told)} of={caution.what}>
                        {worst ? <Worst worst={worst} serving_ml={serving} told={caution.because} /> : null}
                    </Source>
                </>
            )}
        </div>
    );
}

/** "[a], [b]" with each once; words that are no key stay as they are. */
function uniqueKeys(text: string): string {
    const keys = [...text.matchAll(KEY)].map((m) => m[0]);
    return keys.length > 1 ? [...new Set(keys)].join(", ") : text;
}

export function isStopped(cautions: Caution[]): boolean {
    return cautions.some((c) => c.level === "stop");
}

/** What says stop stands before every figure, and again at its ingredient. */
export function Stops({ cautions }: { cautions: Caution[] }) {
    const all = cautions.filter((c) => c.level === "stop");
    if (all.length === 0) return null;
    return (
        <section class="stops" aria-label="Stop: not a drink to make">
            {all.map((c) => (
                <CautionBox caution={c} />
            ))}
        </section>
    );
}

const NUMBER = ["No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven", "Twelve"];

/** A number that begins a sentence. */
export function numberWord(n: number): string {
    return NUMBER[n] ?? String(n);
}

/** "Four things were not understood and are not in these figures." */
export function leftOutWords(n: number): string {
    if (n <= 0) return "";
    const [were, are] = n === 1 ? ["thing was", "is"] : ["things were", "are"];
    return `${numberWord(n)} ${were} not understood and ${are} not in these figures.`;
}
