// A jar over time, as /api/steep tells it: what stands at one day, and the same in words.

import type { Caution } from "./api.js";
import type { Figure } from "./figure.js";
import { rounded } from "./figure.js";

export interface Curve {
    ingredient?: string | null;
    name: string;
    late: boolean;
    share: Figure[]; // of a colour that fades: what is left
    given?: Figure[] | null; // what has come of it, faded or not
    half_faded_days?: { value: number | null; low: number | null; high: number | null } | null;
    mostly_out_days: { value: number | null; low: number | null; high: number | null };
    words: { name: string; text: string; before: string };
}

/** One making of the jar. */
export interface Run {
    planned_days: number;
    filled_days: number; // after the first jar that leads here; all other days count from then
    headline: string | null; // name of the curve that one waits for
    time_days: number[];
    strength_pct_vol: Figure[];
    sugar_g_l: Figure[];
    acid_g_l: Figure[];
    curves: Curve[];
    tip: string;
    sugar_words: string;
    powder_words: string;
}

export interface Steeped extends Run {
    title: string;
    jar: string | null; // null: nothing is steeped, or something says stop
    jars: string[];
    stop: string | null;
    mostly_out: string;
    draws: number;
    cautions: Caution[];
    offers: { say: string; words: string }[];
    what_if?: Run & { asked: string[]; amounts?: string[]; cautions: Caution[] };
}

const HOURS = 24;
const FEW_DAYS = 5; // up to here the slider goes by hours,
const FEW_HOURS = 0.3; // and up to here, in days, by five minutes
const MINUTES = 24 * 60;

/** A series at any day: straight between its times, level behind them. */
export function at(times: readonly number[], series: readonly Figure[], day: number): Figure {
    const n = times.length;
    const after = times.findIndex((t) => t >= day);
    if (after <= 0) return series[after === 0 ? 0 : n - 1]!;
    const [a, b] = [series[after - 1]!, series[after]!];
    const t = (day - times[after - 1]!) / (times[after]! - times[after - 1]!);
    const mix = (x: number, y: number) => x + (y - x) * t;
    return { value: mix(a.value, b.value), low: mix(a.low, b.low), high: mix(a.high, b.high), status: b.status };
}

export function lastDay(run: Run): number {
    return run.time_days[run.time_days.length - 1] ?? 0;
}

/** The days a slider goes over: by days, of a short jar by hours or minutes. */
export function daysOf(doc: Steeped): { low: number; high: number; tick: number } {
    const end = Math.max(lastDay(doc), doc.what_if ? lastDay(doc.what_if) : 0);
    const tick = end > FEW_DAYS ? 1 : end > FEW_HOURS ? 1 / HOURS : 5 / MINUTES;
    return { low: 0, high: Number((Math.floor(end / tick + 1e-6) * tick).toFixed(6)), tick };
}

/** "the beginning", "20 minutes", "6 hours", "day 12", "day 2 and 6 hours". */
export function dayWords(day: number): string {
    const minutes = Math.round(day * MINUTES);
    if (minutes > 0 && minutes < 60) return `${minutes} minute${minutes === 1 ? "" : "s"}`;
    if (minutes >= 60 && minutes < 6 * 60 && minutes % 60 !== 0)
        return `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
    const hours = Math.round(day * HOURS);
    const [whole, rest] = [Math.floor(hours / HOURS), hours % HOURS];
    const some = `${rest} hour${rest === 1 ? "" : "s"}`;
    if (hours === 0) return "the beginning";
    if (whole === 0) return some;
    return rest === 0 ? `day ${whole}` : `day ${whole} and ${some}`;
}

/** "day 3 of second (day 31 in all)" where other jars come before this one. */
export function dayInAll(doc: Steeped, day: number): string {
    if (!(doc.filled_days > 0)) return dayWords(day);
    return `${dayWords(day)} of ${doc.jar} (day ${Math.floor(doc.filled_days + day + 1e-6)} in all)`;
}

/** A share as the program words it, in per cent; what would round to all of it is "nearly all". */
export function shareFigure(f: Figure): Figure {
    return { ...f, value: 100 * f.value, low: 100 * Math.max(0, f.low), high: 100 * Math.min(1, f.high) };
}

export interface Told {
    value: string;
    likely: string; // "between 40 and 100", "" where it is exact
}

const NONE = 0.005; // per cent: nothing yet
const ALL = 99.5;

export function toldShare(f: Figure): Told {
    const x = shareFigure(f);
    if (x.high < NONE) return { value: "0\u2009%", likely: "" };
    const words = told(x, "%");
    if (x.value <= ALL) return words;
    return { value: "nearly all", likely: x.low > ALL ? "" : words.likely };
}

export function told(f: Figure, unit: string): Told {
    const r = rounded(f);
    return {
        value: `${r.value}\u2009${unit}`,
        likely: r.exact || (r.low === r.value && r.high === r.value) ? "" : `likely between ${r.low} and ${r.high}`,
    };
}

export interface Row {
    name: string;
    told: Told;
}

/** What stands at one day: the thing followed, the strength, and sugar and acid where there are any. */
export function rowsAt(run: Run, curve: Curve | undefined, day: number): Row[] {
    const rows: Row[] = [];
    const liquid = (name: string, series: Figure[], unit: string, least: number) => {
        if (Math.max(...series.map((f) => f.high)) > least)
            rows.push({ name, told: told(at(run.time_days, series, day), unit) });
    };
    if (curve) rows.push({ name: curve.words.name, told: toldShare(at(run.time_days, curve.share, day)) });
    if (curve?.given) rows.push({ name: "of it come so far, faded or not", told: toldShare(at(run.time_days, curve.given, day)) });
    liquid("strength", run.strength_pct_vol, "% vol", 0);
    liquid("sugar", run.sugar_g_l, "g/L", 0.5);
    liquid("acid", run.acid_g_l, "g/L", 0.05);
    return rows;
}

/** "Half of it fades in 90 days, likely between 50 and 160, where this jar stands." */
export function fadeWords(curve: Curve | undefined): string {
    const half = curve?.half_faded_days;
    if (!curve?.given || !half || half.value === null || half.low === null || half.high === null) return "";
    const t = told({ value: half.value, low: half.low, high: half.high, status: "ok" }, "days");
    return `The colour fades: half of it in ${t.value}${t.likely ? `, ${t.likely}` : ""}, as warm as this jar stands.`;
}

/** "day 12: vanilla pod, vanillin 80 %, likely between 40 and 100; strength 38 % vol, likely between 37 and 40" */
export function daySentence(day: number, rows: readonly Row[]): string {
    return `${dayWords(day)}: ${rows
        .map((r) => `${r.name} ${r.told.value}${r.told.likely ? `, ${r.told.likely}` : ""}`)
        .join("; ")}`;
}

/** The same thing in another making of the jar. */
export function sameCurve(run: Run | undefined, curve: Curve | undefined): Curve | undefined {
    return run?.curves.find((c) => c.words.name === curve?.words.name && c.late === curve.late);
}

/** What is followed first: what one waits for, as the program has it. */
export function awaited(run: Run): Curve | undefined {
    return run.curves.find((c) => c.words.name === run.headline) ?? run.curves[0];
}

/** Several changes in one field, parted by semicolons. */
export function changesOf(chosen: string, own: string): string[] {
    return [chosen, ...own.split(";")].map((w) => w.trim()).filter(Boolean);
}
