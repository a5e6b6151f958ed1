// What a maker writes into a blank of a sentence: "22 to 24", "at least 2", "at most 150", "24".

import type { Problem, Range, Wish } from "./api.js";

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

export function readNumber(text: string): number | null {
    const found = text.replace(/\s/g, "").match(/^[^\d-]*(\d+(?:[.,]\d+)?)/);
    return found ? Number(found[1]!.replace(",", ".")) : null;
}

/** A wish as a range; null where the blank is empty; undefined where it is not understood. */
export function readRange(text: string, tolerance: (x: number) => number): Range | null | undefined {
    if (!text.trim() || /^any/i.test(text.trim())) return null;
    const n = (text.match(NUMBER) ?? []).map((s) => Number(s.replace(",", ".")));
    const [a, b] = n;
    if (a === undefined || n.length > 2) return undefined;
    if (b !== undefined) return [Math.min(a, b), Math.max(a, b)];
    if (MOST.test(text)) return [null, a];
    if (LEAST.test(text)) return [a, null];
    return [Math.max(0, a - tolerance(a)), a + tolerance(a)];
}

export function tellRange(range: Range | number | undefined): string {
    if (range === undefined) return "";
    if (typeof range === "number") return String(range);
    const [a, b] = range;
    if (a === null) return b === null ? "" : `at most ${b}`;
    return b === null ? `at least ${a}` : `${a} to ${b}`;
}

const RULES: {
    name: Exclude<BlankName, "size">;
    key: keyof Wish;
    tolerance: (x: number) => number;
    example: string;
}[] = [
    { name: "strength", key: "strength_pct_vol", tolerance: () => 0.5, example: "22 to 24" },
    { name: "sugar", key: "sugar_g_l", tolerance: () => 5, example: "170 to 195" },
    { name: "bottles", key: "bottles", tolerance: () => 0, example: "2" },
    { name: "acid", key: "acid_g_l", tolerance: (x) => 0.02 * x, example: "8 to 10" },
    { name: "cost", key: "cost", tolerance: () => 0, example: "at most 20" },
];

// "Enough for 2 bottles" is at least two; a cost is at most what is said.
function openEnd(name: BlankName, text: string, range: Range): Range {
    if ((text.match(NUMBER) ?? []).length > 1 || MOST.test(text) || LEAST.test(text)) return range;
    if (name === "bottles") return [range[1], null];
    if (name === "cost") return [null, range[1]];
    return range;
}

/** The sentence as a wish, and what in it is not understood. */
export function wishOf(blanks: Blanks): { wish: Wish | null; problems: Problem[] } {
    const wish: Record<string, Range | number> = {};
    const problems: Problem[] = [];
    for (const rule of RULES) {
        const text = blanks[rule.name];
        const range = readRange(text, rule.tolerance);
        if (range === undefined)
            problems.push({
                file: rule.name,
                what: `"${text}" is not understood`,
                why: "it should be one figure or two",
                try: rule.example,
            });
        else if (range) wish[rule.key] = openEnd(rule.name, text, range);
    }
    const size = readNumber(blanks.size);
    if (wish["bottles"]) {
        if (size && size > 0) wish["bottle_ml"] = /\d\s*l/i.test(blanks.size) ? size * 1000 : size;
        else
            problems.push({
                file: "size",
                what: "How large is a bottle?",
                why: "without it bottles cannot be counted",
                try: "500 mL",
            });
    }
    return { wish: Object.keys(wish).length > 0 ? (wish as Wish) : null, problems };
}

/** Blanks for a wish that a recipe holds. */
export function blanksOf(wish: Wish | null | undefined, bottle_ml: number): Blanks {
    const w = wish ?? {};
    return {
        strength: tellRange(w.strength_pct_vol),
        sugar: tellRange(w.sugar_g_l),
        bottles: tellRange(w.bottles).replace(/^at least /, ""),
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
