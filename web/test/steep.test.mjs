// A jar over time in the pages: what stands at one day, and its words.
import assert from "node:assert/strict";
import { test } from "node:test";
import { load } from "./load.mjs";

const { at, awaited, changesOf, dayInAll, daySentence, daysOf, dayWords, rowsAt, sameCurve, toldShare } = await load("steep.ts");
const { liesAbove } = await load("jar_chart.tsx");
const { mayHoldJar } = await load("jar.tsx");

const f = (value, low = value, high = value) => ({ value, low, high, status: "ok" });
const curve = (name, shares, days, late = false) => ({
    name,
    late,
    share: shares,
    mostly_out_days: { value: days, low: null, high: null },
    words: { name, text: `mostly out by day ${days}` },
});
const RUN = {
    planned_days: 10,
    filled_days: 0,
    headline: "cloves, eugenol",
    time_days: [0, 10, 20],
    strength_pct_vol: [f(40, 39, 41), f(38, 37, 40), f(37, 36, 39)],
    sugar_g_l: [f(0), f(60, 50, 75), f(64, 55, 80)],
    acid_g_l: [f(0), f(0), f(0)],
    curves: [
        curve("cloves, eugenol", [f(0), f(0.8, 0.4, 1), f(0.999, 0.7, 1)], 14),
        curve("peel, limonene", [f(0), f(0.95, 0.9, 1), f(1, 0.95, 1)], 4),
        curve("peel, pith", [f(0), f(0.1, 0.05, 0.3), f(0.2, 0.1, 0.5)], null, true),
    ],
    tip: "",
};

test("between two times a figure lies on a straight line, with its ends", () => {
    assert.deepEqual(at(RUN.time_days, RUN.curves[0].share, 5), f(0.4, 0.2, 0.5));
    assert.equal(at(RUN.time_days, RUN.curves[0].share, 0).value, 0);
    assert.equal(at(RUN.time_days, RUN.curves[0].share, 20).value, 0.999);
    assert.equal(at(RUN.time_days, RUN.curves[0].share, 99).value, 0.999);
});

test("the slider goes by days, of a short jar by hours, as far as either making", () => {
    assert.deepEqual(daysOf(RUN), { low: 0, high: 20, tick: 1 });
    assert.equal(daysOf({ ...RUN, what_if: { ...RUN, time_days: [0, 10, 90.4] } }).high, 90);
    assert.deepEqual(daysOf({ ...RUN, time_days: [0, 1, 2] }), { low: 0, high: 2, tick: 1 / 24 });
    assert.deepEqual(daysOf({ ...RUN, time_days: [0, 0.1, 0.25] }), { low: 0, high: 0.25, tick: 5 / 1440 });
});

test("a later jar has days of its own, and in all", () => {
    assert.equal(dayInAll({ ...RUN, jar: "second", filled_days: 28 }, 3), "day 3 of second (day 31 in all)");
    assert.equal(dayInAll({ ...RUN, jar: "first" }, 3), "day 3");
});

test("a day in words", () => {
    assert.equal(dayWords(0), "the beginning");
    assert.equal(dayWords(1 / 24), "1 hour");
    assert.equal(dayWords(1 / 1440), "1 minute");
    assert.equal(dayWords(20 / 1440), "20 minutes");
    assert.equal(dayWords(75 / 1440), "1 h 15 min");
    assert.equal(dayWords(0.25), "6 hours");
    assert.equal(dayWords(1), "day 1");
    assert.equal(dayWords(12), "day 12");
    assert.equal(dayWords(2.25), "day 2 and 6 hours");
});

test("a share is told in per cent, by the rule of the house; nearly all is said so", () => {
    assert.deepEqual(toldShare(f(0.8, 0.4, 1.02)), { value: "80\u2009%", likely: "likely between 40 and 100" });
    // ... and still how sure that is
    assert.deepEqual(toldShare(f(0.999, 0.4, 1)), { value: "nearly all", likely: "likely between 40 and 100" });
    assert.deepEqual(toldShare(f(0.999, 0.996, 1)), { value: "nearly all", likely: "" });
    assert.deepEqual(toldShare(f(0)), { value: "0\u2009%", likely: "" });
});

test("a day tells what is followed, strength and sugar; what is not there is not told", () => {
    const rows = rowsAt(RUN, RUN.curves[0], 10);
    assert.deepEqual(
        rows.map((r) => r.name),
        ["cloves, eugenol", "strength", "sugar"],
    );
    assert.equal(
        daySentence(10, rows).replaceAll("\u2009", " "),
        "day 10: cloves, eugenol 80 %, likely between 40 and 100; strength 38.0 % vol, likely between 37.0 and 40.0; sugar 60 g/L, likely between 50 and 75",
    );
});

test("what is followed first is what one waits for, as the program says; else the first there is", () => {
    assert.equal(awaited({ ...RUN, headline: "peel, limonene" }).name, "peel, limonene");
    assert.equal(awaited({ ...RUN, headline: null }).name, "cloves, eugenol");
    assert.equal(awaited({ ...RUN, curves: [] }), undefined);
});

test("the same thing is found in the other making, by its words", () => {
    const other = { ...RUN, curves: [...RUN.curves].reverse() };
    assert.equal(sameCurve(other, RUN.curves[1]), RUN.curves[1]);
    assert.equal(sameCurve({ ...RUN, curves: [] }, RUN.curves[1]), undefined);
    assert.equal(sameCurve(undefined, RUN.curves[1]), undefined);
});

test("labels stand on the side where their curve is", () => {
    assert.equal(liesAbove(RUN, RUN.curves[1], RUN, RUN.curves[0]), true);
    assert.equal(liesAbove(RUN, RUN.curves[0], RUN, RUN.curves[1]), false);
});

test("changes: the chosen one, then the maker's own, parted by semicolons", () => {
    assert.deepEqual(changesOf("", ""), []);
    assert.deepEqual(changesOf("in the fridge", " half the cloves ; 90 days;"), [
        "in the fridge",
        "half the cloves",
        "90 days",
    ]);
});

test("only what is steeped may be a jar", () => {
    assert.equal(mayHoldJar([{ step_kind: "blend" }]), false);
    assert.equal(mayHoldJar([{ step_kind: "blend" }, { step_kind: "steep" }]), true);
    assert.equal(mayHoldJar([{ step_kind: "syrup" }]), true);
});
