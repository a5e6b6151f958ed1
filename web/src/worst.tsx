// A worst case, opened: what each ingredient may hold, every limit that was held against it, and where the figures are from.

import type { ComponentChildren } from "preact";
import { createContext } from "preact";
import type { AtMost, Caution, HeldAgainst, Limit, Watched, WorstCase } from "./api.js";
import { cap } from "./parts.js";

export const WorstCases = createContext<readonly WorstCase[]>([]);
export const HeldHere = createContext<HeldAgainst | undefined>(undefined);

/** The worst case that a caution tells: of the first thing that carries it, and named in it. */
export function worstOf(all: readonly WorstCase[], c: Caution): WorstCase | undefined {
    if (c.code !== "worst_case") return undefined;
    const here = all.filter((w) => w.carriers[0]?.step === c.step && w.carriers[0]?.line === c.line);
    const named = here.filter((w) => c.what.includes(w.toxicant));
    return named.sort((a, b) => b.toxicant.length - a.toxicant.length)[0] ?? (here.length === 1 ? here[0] : undefined);
}

/** Two digits that count, never below what it is: "41", "0.034", "1 200". */
export function upTo(x: number): string {
    if (!(x > 0)) return "0";
    const step = 10 ** (Math.floor(Math.log10(x)) - 1);
    const up = Math.ceil(x / step - 1e-9) * step;
    const digits = Math.max(0, -Math.round(Math.log10(step)));
    return up.toFixed(Math.min(digits, 12)).replace(/\B(?=(\d{3})+$)/g, digits > 0 ? "" : "\u2009");
}

function most(x: AtMost, unit: string): string {
    return x.high === null ? "" : `${upTo(x.high)}\u2009${unit}`;
}

/** "3 g, 4.1 g at most" */
function weightWords({ value, high }: AtMost): string {
    if (value === null || high === null) return "weight not known";
    const [is, at] = [upTo(value), upTo(high)];
    return is === at ? `${is}\u2009g` : `${is}\u2009g, ${at}\u2009g at most`;
}

export function carrierWords(w: WorstCase): string[] {
    return w.carriers.map((c) => {
        const held =
            c.ceiling_mg_kg === null
                ? "what it holds was published nowhere"
                : `up to ${upTo(c.ceiling_mg_kg)}\u2009mg in a kilogram`;
        const all = most(c.in_drink_mg, "mg");
        const found = c.assay ? `found by ${c.assay.laboratory}, ${c.assay.date}` : "";
        const mark = c.figure && c.figure !== "read" ? c.figure : "";
        const how = [found, c.through ?? "", c.note ?? "", mark].filter(Boolean).join("; ");
        return `${cap(c.ingredient)} (${weightWords(c.weight_g)}): ${held}${all ? `, so at most ${all} in the whole drink` : ""}${how ? `; ${how}` : ""}. ${c.source ?? ""}`.trim();
    });
}

export function drinkWords(w: WorstCase, serving_ml: number): string {
    const all = [most(w.at_most_mg_l, "mg/L"), most(w.at_most_mg_kg, "mg/kg")];
    const serving = most(w.at_most_mg_serving, "mg");
    if (serving) all.push(`${serving} in ${serving_ml}\u2009mL`);
    return all.filter(Boolean).join(", ");
}

/** Every key that stands behind it, each once. */
export function sourcesOf(w: WorstCase): string {
    const all = [...w.tests.map((t) => t.rule.source), ...w.carriers.map((c) => c.source ?? ""), w.harm_source];
    return [...new Set(all.filter(Boolean))].join(", ");
}

function Test({ test }: { test: Limit }) {
    return (
        <li>
            {cap(test.text)}. {test.rule.source}
        </li>
    );
}

/** told: what stands above it already. */
export function Worst({ worst, serving_ml, told }: { worst: WorstCase; serving_ml: number; told: string }) {
    const drink = drinkWords(worst, serving_ml);
    return (
        <div class="worst">
            <p>
                <b>{cap(worst.toxicant)}.</b> {worst.harm}
            </p>
            <p>
                <b>What goes in may hold at most</b>
            </p>
            <ul>
                {carrierWords(worst).map((c) => (
                    <li>{c}</li>
                ))}
            </ul>
            {drink ? (
                <p>
                    <b>So the drink holds at most</b> {drink}: all of it in the drink, nothing lost to heat, time or straining.
                </p>
            ) : null}
            <p>
                <b>{worst.tests.length > 0 ? "Each limit, held against it" : "No limit for it in a drink is known here."}</b>
            </p>
            <ul>
                {worst.tests.map((t) => (
                    <Test test={t} />
                ))}
            </ul>
            {worst.most && !told.includes(worst.most) ? <p>{cap(worst.most)}.</p> : null}
        </div>
    );
}

/** A page of which these worst cases are. */
export function WithWorst({ of, children }: { of: Partial<Watched> | null | undefined; children: ComponentChildren }) {
    return (
        <WorstCases.Provider value={of?.worst_cases ?? []}>
            <HeldHere.Provider value={of?.held_against}>{children}</HeldHere.Provider>
        </WorstCases.Provider>
    );
}
