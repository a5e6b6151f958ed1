// What a maker writes into a blank of a sentence: "22 to 24", "at least 2", "at most 150", "24".

import { readAmount } from "./amount.js";
import type { End, Problem, Range, Wish, Wished } from "./api.js";

export interface Blanks {
    strength: string;
    sugar: string;
    bottles: string;
    size: string;
    acid: string;
    cost: string;
}

export type BlankName = keyof Blanks;

const NUMBER = /\d+(?:[.,]\d+)?/g;
const LEAST = /at least|or more|min|from|over|above|>|\+$/i;
const MOST = /at most|or less|max|up to|under|below|less than|</i;
// Words and signs that may stand round the numbers of a blank.
const AROUND = new RegExp(
    [
        "at least|at most|or more|or less|less than|up to|under|below|over|above|about|between|from",
        "minimum|maximum|min\\.?|max\\.?|and|to|bottles?|%|vol|g\\s*/\\s*l|abv|[<>~–+-]",
    ].join("|"),
    "gi",
);

export function readNumber(text: string): number | null {
    const found = text.replace(/\s/g, "").match(/^[^\d-]*(\d+(?:[.,]\d+)?)/);
    return found ? Number(found[1]!.replace(",", ".")) : null;
}

const WORDS = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
const NUMBER_WORD = new RegExp(`\\b(${WORDS.join("|")})\\b`, "gi");
const PARTS: Record<string, number> = { half: 2, third: 3, quarter: 4, fifth: 5, sixth: 6, eighth: 8, tenth: 10 };

/** "a fifth less", "two fifths less", "20 % more": by what a figure is multiplied; null where it is no such thing. */
export function readShare(text: string): number | null {
    const said = text.trim().toLowerCase().replace(NUMBER_WORD, (w) => String(WORDS.indexOf(w.toLowerCase()) + 1));
    const found = /^(?:(?:an?|(\d+))\s+)?(half|third|quarter|fifth|sixth|eighth|tenth)s?\s+(less|more)(?: sweet| strong)?$/.exec(said);
    const per = /^(\d+(?:[.,]\d+)?)\s*%\s*(less|more)(?: sweet| strong)?$/.exec(said);
    const share = found ? Number(found[1] ?? 1) / PARTS[found[2]!]! : per ? Number(per[1]!.replace(",", ".")) / 100 : NaN;
    const less = (found?.[3] ?? per?.[2]) === "less";
    if (!(share > 0) || (less && share >= 1)) return null;
    return less ? 1 - share : 1 + share;
}

/** A wish as it was written, one number as one; null where the blank is empty; undefined where it is not understood. */
export function readRange(text: string, base?: number): Wished | null | undefined {
    const share = readShare(text);
    if (share !== null) return base === undefined ? undefined : Number((share * base).toFixed(1));
    const said = text.trim().replace(NUMBER_WORD, (w) => String(WORDS.indexOf(w.toLowerCase()) + 1));
    if (!said || /^any/i.test(said)) return null;
    if (/\d\s*e\s*\d/i.test(said) || /(^|to|and)\s*[-–−]\s*\d/i.test(said)) return undefined;
    const n = (said.match(NUMBER) ?? []).map((s) => Number(s.replace(",", ".")));
    const [a, b] = n;
    if (a === undefined || n.length > 2) return undefined;
    if (said.replace(NUMBER, " ").replace(AROUND, " ").trim() !== "") return undefined;
    if (b !== undefined) return [Math.min(a, b), Math.max(a, b)];
    if (MOST.test(said)) return [null, a];
    if (LEAST.test(said)) return [a, null];
    return a;
}

export function tellRange(range: Wished | undefined): string {
    if (range === undefined) return "";
    if (typeof range === "number") return String(range);
    const [a, b] = range;
    if (a === null) return b === null ? "" : `at most ${b}`;
    return b === null ? `at least ${a}` : `${a} to ${b}`;
}

/** How far from one number a figure may be and still meets it: docs/api.md, WISH. */
const TOLERANCE: Record<string, (x: number) => number> = {
    strength_pct_vol: () => 0.5,
    sugar_g_l: () => 5,
    acid_g_l: (x) => Math.max(0.3, 0.05 * x),
};

/** A wish as the range that meets it, for drawing and counting. */
export function rangeOf(name: keyof Wish, wished: Wished | undefined): Range | undefined {
    if (typeof wished !== "number") return wished;
    const t = (TOLERANCE[name] ?? ((x: number) => 0.02 * x))(wished);
    return [Math.max(0, wished - t), wished + t];
}

interface Rule {
    name: Exclude<BlankName, "size">;
    key: Exclude<keyof Wish, "bottle_ml">;
    example: string;
    low: number;
    high: number;
    unit: string;
}

const RULES: Rule[] = [
    { name: "strength", key: "strength_pct_vol", example: "22 to 24", low: 0, high: 96, unit: "% vol" },
    { name: "sugar", key: "sugar_g_l", example: "170 to 195", low: 0, high: 1000, unit: "g/L" },
    { name: "bottles", key: "bottles", example: "2", low: 1, high: 1000, unit: "" },
    { name: "acid", key: "acid_g_l", example: "8 to 10", low: 0, high: 200, unit: "g/L" },
    { name: "cost", key: "cost", example: "at most 20", low: 0, high: 1e6, unit: "" },
];

/** Bottles are full, and at most a tenth over; a cost is at most what is said. */
function meant(name: BlankName, range: Wished): Wished {
    if (typeof range !== "number") return range;
    if (name === "bottles") return [range, Number((1.1 * range).toFixed(6))];
    return name === "cost" ? [null, range] : range;
}

const NOT_READ = "a blank takes a number, two numbers with “to” between them, “at least”, “at most” or “a fifth less”";

/** The same reason is said once, of all blanks that it is true of. */
export function together(problems: Problem[]): Problem[] {
    const out: Problem[] = [];
    for (const p of problems) {
        const same = out.find((o) => o.why === p.why && / is not understood| are not understood/.test(o.what));
        if (!same) out.push({ ...p });
        else
            same.what = `${same.what.replace(/ (?:is|are) not understood.*$/, "")}, ${p.what.replace(/ is not understood.*$/, "")} are not understood as wishes`;
    }
    return out;
}

function wrong(rule: Rule, text: string, range: Wished | undefined): Problem | null {
    const problem = (why: string): Problem => ({
        file: rule.name,
        what: `"${text}" is not understood as a wish`,
        why,
        try: `write it like "${rule.example}", or leave it empty`,
    });
    if (range === undefined)
        return problem(NOT_READ);
    const both: End[] = typeof range === "number" ? [range] : range;
    const ends = both.filter((x): x is number => x !== null);
    if (ends.some((x) => x < rule.low || x > rule.high))
        return problem(`it goes from ${rule.low} to ${rule.high}${rule.unit ? ` ${rule.unit}` : ""}`);
    if (rule.name === "bottles" && ends.some((x) => x !== Math.floor(x)))
        return problem("bottles are counted whole");
    return null;
}

/** The sentence as a wish, and what in it is not understood. */
export function wishOf(blanks: Blanks, base: Partial<Record<BlankName, number | undefined>> = {}): { wish: Wish | null; problems: Problem[] } {
    const wish: Wish = {};
    const problems: Problem[] = [];
    for (const rule of RULES) {
        const text = blanks[rule.name];
        const range = readRange(text, base[rule.name]);
        if (range === null) continue;
        const problem = wrong(rule, text, range);
        if (problem) problems.push(problem);
        else wish[rule.key] = meant(rule.name, range!);
    }
    if (wish.bottles !== undefined) {
        const size = readAmount(blanks.size, "mL").value;
        if (size !== undefined && size >= 10 && size <= 1e5) wish.bottle_ml = size;
        else {
            delete wish.bottles;
            problems.push({
                file: "size",
                what: "How large is a bottle?",
                why: "without it bottles cannot be counted",
                try: "500 mL",
            });
        }
    }
    return { wish: Object.keys(wish).length > 0 ? wish : null, problems };
}

/** Blanks for a wish that a recipe holds. */
export function blanksOf(wish: Wish | null | undefined, bottle_ml: number): Blanks {
    const w = wish ?? {};
    return {
        strength: tellRange(w.strength_pct_vol),
        sugar: tellRange(w.sugar_g_l),
        bottles: tellRange(w.bottles),
        size: `${w.bottle_ml ?? (bottle_ml || 500)} mL`,
        acid: tellRange(w.acid_g_l),
        cost: tellRange(w.cost),
    };
}

/** "1 of 20 meets all three wishes" */
export function jointCount(joint: number | null, wish: Wish | null): string {
    if (joint === null || !wish) return "";
    const n = Object.keys(wish).filter((k) => k !== "bottle_ml").length;
    const all = n < 2 ? "your wish" : n === 2 ? "both wishes" : n === 3 ? "all three wishes" : `all ${n} wishes`;
    const count = Math.round(joint * 20);
    if (joint * 20 < 0.5) return `fewer than 1 of 20 meets ${all}`;
    return `${count} of 20 ${count === 1 ? "meets" : "meet"} ${all}`;
}
