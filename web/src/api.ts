// What the pages ask the program: docs/api.md.

import type { Figure } from "./figure.js";

export type Sure = "sure" | "likely" | "guess" | "unread";
export type Role = "ingredient" | "step" | "title" | "heading" | "note" | "nothing";
export type End = number | null;
export type Range = [End, End];

export interface Problem {
    file?: string;
    line?: number;
    column?: number;
    what: string;
    why?: string;
    try?: string;
    gone?: boolean; // nobody answered: the same may be asked again
}

export interface Row {
    line: number;
    words: string;
    role: Role;
    read_as: string;
    sure: Sure;
    because: string;
    optional: boolean;
    step: number | null;
    at?: Place | null; // the line of the recipe it became
    changed: boolean;
}

export interface Place {
    step: number;
    line: number;
}

export interface Question {
    id: string;
    line: number;
    ask: string;
    why: string;
    options: string[];
    answered: string | null;
    own_words: boolean;
    not_read?: string | null; // an answer that could not be read
}

export interface Caution {
    level: "note" | "caution" | "over" | "stop";
    what: string;
    because: string;
    source: string;
    code?: string;
    step?: number | null;
    line?: number | null;
    brought?: boolean; // with a drink or fruit of another batch
    row?: number; // of a reading: what is named there and in no step
}

/** Whose rules a recipe was held against, how much is poured and for whom. */
export interface HeldAgainst {
    place: string;
    name: string;
    year_of_data: number;
    known: string;
    unknown: string;
    first: string;
    serving_ml: number;
    body_weight_kg: number;
}

/** A worst case has no low end: with the amounts as written, and with the most they may be. */
export interface AtMost {
    value: number | null;
    high: number | null;
}

export interface Limit {
    verdict: string;
    counts: boolean;
    text: string;
    rule: { source: string };
}

export interface WorstCase {
    toxicant: string;
    harm: string;
    harm_source: string;
    verdict: string;
    at_most_mg_kg: AtMost;
    at_most_mg_l: AtMost;
    at_most_mg_serving: AtMost;
    most: string;
    carriers: {
        step: number;
        line: number;
        ingredient: string;
        weight_g: AtMost;
        in_drink_mg: AtMost;
        ceiling_mg_kg: number | null;
        through?: string;
        note?: string;
        source?: string;
        figure?: string;
        assay?: { laboratory: string; date: string };
    }[];
    tests: Limit[];
}

export interface Watched {
    cautions: Caution[];
    held_against?: HeldAgainst;
    worst_cases?: WorstCase[];
    all_reckoned?: boolean;
}

export interface Line {
    step: number;
    line: number;
    step_kind: string;
    step_name: string;
    text: string;
    amount_text?: string; // "" where a line begins with its name
    name_text?: string;
    said: string | null;
    name: string;
    amount: number;
    unit: string;
    strength_pct_vol: number | null;
    can_change: boolean;
}

export interface Dial {
    step: number;
    line: number;
    of: "amount" | "strength";
    value: number;
    low: number;
    high: number;
    tick: number;
    unit: string;
    text: string;
    name: string;
    free?: boolean; // an aim changes it where nobody says what may change
}

export type FigureName =
    "strength_pct_vol" | "sugar_g_l" | "volume_ml" | "bottles" | "acid_g_l" | "extract_g_l" | "cost";

export interface Foretold {
    title: string;
    strength_pct_vol: Figure;
    sugar_g_l: Figure;
    volume_ml: Figure;
    bottles: Figure | null;
    acid_g_l: Figure;
    extract_g_l: Figure;
    energy_kj_100ml: Figure;
    energy_kcal_100ml: Figure;
    sugar_acid_ratio?: Figure | null;
    sg_20_20?: Figure | null;
    brix?: Figure | null;
    cost?: Figure | null;
    currency?: string;
    draws?: number;
    wish?: { met: boolean; text: string; asked?: Wish } | null;
    what_matters?: { what: string }[];
    bottle_ml: number;
    cautions: Caution[];
    held_against?: HeldAgainst;
    worst_cases?: WorstCase[];
    all_reckoned?: boolean;
    tip: string | null;
    notes: ({ text: string } | string)[];
    pips: Partial<Record<FigureName, number[]>>;
    words: Record<string, string>;
    lines: Line[];
    dials: Dial[];
    sources?: SourceOf[];
}

/** A source, and the figures and ingredients that rest on it; without a key it is why there is none. */
export interface SourceOf {
    key: string | null;
    title: string;
    of: string[];
}

export interface Taken {
    title: string;
    rows: Row[];
    questions: Question[];
    more_questions: number;
    left_out?: number;
    cautions?: Caution[]; // of what is named and in no step; the bottle's own stand in foretold
    stop?: string | null; // what must not go into a drink: then no recipe is given
    allergens_left_out?: string;
    said: string[];
    recipe: string;
    foretold: Foretold | null;
    because: string;
}

/** One number stands for itself and the usual tolerance, and is what an aim goes for. */
export type Wished = Range | number;

export interface Wish {
    strength_pct_vol?: Wished;
    sugar_g_l?: Wished;
    volume_ml?: Wished;
    acid_g_l?: Wished;
    bottles?: Wished;
    bottle_ml?: number;
    cost?: Wished;
}

export type TurnedFigure = Figure & { pips: number[]; in_wish?: number };

export interface Turned {
    figures: Partial<Record<FigureName, TurnedFigure>>;
    all_wishes: number | null;
    joint: number | null;
    dials: Dial[];
    notes: string[];
    recipe?: string;
}

export interface Amount {
    step: number;
    line: number;
    of: "amount" | "strength";
    name: string;
    before: number;
    after: number;
    unit: string;
    text_before: string;
    text_after: string;
    cautions?: Caution[]; // spirit that burns is poured here
}

export interface Aimed {
    met: boolean;
    amounts: Amount[];
    figures: Partial<Record<FigureName, TurnedFigure>>;
    all_wishes: number | null;
    joint: number | null;
    stopped_by: { what: string; bound: string; value: number; unit: string; step?: number; line?: number; closes: number }[];
    nearest: string | null;
    gave_way: string; // what nobody asked to change and that moved far; ""
    ways: { text: string; gives: string; gave_way: string; recipe: string | null }[];
    alternatives?: { text: string; amounts: Amount[]; joint: number; recipe?: string | null }[];
    because?: string;
    recipe: string | null; // null where a range of the recipe cannot be written anew
}

export interface Gauged {
    strength_pct_vol: Figure | null;
    sugar_g_l: Figure | null;
    cautions: Caution[];
    words: Record<string, string>;
    verdict: "ok" | "again";
    assumed?: string; // that no temperature was said
    because?: string;
    try?: string;
    method?: string;
    source?: string[];
    joint?: [number, number][];
    sources?: SourceOf[];
}

/** What the program could not do, in its own words. */
export class Refusal extends Error {
    constructor(
        readonly status: number,
        readonly problems: Problem[],
    ) {
        super(problems[0]?.what ?? "the program did not answer");
    }
}

const USUAL_PORT = "8417";

/** Nobody listens any more: this page goes on only where the program answers at the same address. */
export function notThere(port: string): Problem {
    return {
        what: "The program did not answer",
        why: "it was stopped, or closed with its window; what you typed is still on this page",
        try: `start it again with “stillroom serve${port === USUAL_PORT ? "" : ` --port ${port}`}”`,
        gone: true,
    };
}

async function answer<T>(response: Response): Promise<T> {
    const body = (await response.json().catch(() => null)) as (T & { errors?: Problem[]; error?: Problem }) | null;
    if (response.ok && body) return body;
    const problems = body?.errors ?? (body?.error ? [body.error] : []);
    throw new Refusal(
        response.status,
        problems.length > 0
            ? problems
            : [
                  {
                      what: "The program did not answer in full",
                      why: `status ${response.status}`,
                      try: "see whether it still runs",
                      gone: true,
                  },
              ],
    );
}

async function ask<T>(path: string, init?: RequestInit): Promise<T> {
    let response: Response;
    try {
        response = await fetch(path, init);
    } catch {
        throw new Refusal(0, [notThere(location.port)]);
    }
    return answer<T>(response);
}

// A pasted text may hold the sign that ends texts inside the program.
const withoutNul = (_: string, x: unknown) => (typeof x === "string" ? x.replaceAll("\0", "") : x);

export function post<T>(path: string, body: unknown, signal?: AbortSignal): Promise<T> {
    return ask<T>(path, {
        method: "POST",
        headers: { "Content-Type": "application/json" },
        body: JSON.stringify(body, withoutNul),
        ...(signal ? { signal } : {}),
    });
}

export function get<T>(path: string): Promise<T> {
    return ask<T>(path);
}
