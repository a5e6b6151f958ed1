// Worst cases in the pages: which caution tells which, its figures in words, and for whom it is asked.
import assert from "node:assert/strict";
import { test } from "node:test";
import { load } from "./load.mjs";

const { worstOf, upTo, carrierWords, drinkWords, sourcesOf } = await load("worst.tsx");
const { whoOf, whoBody, wrongWith } = await load("who.ts");
const { sentences } = await load("parts.tsx");
const { fadeWords, rowsAt } = await load("steep.ts");

const carrier = (line, over = {}) => ({
    step: 1,
    line,
    ingredient: "cinnamon stick",
    weight_g: { value: 3, high: 4.006 },
    in_drink_mg: { value: 30, high: 40.06 },
    ceiling_mg_kg: 10000,
    source: "[a]",
    figure: "read",
    ...over,
});
const worst = (toxicant, line, over = {}) => ({
    toxicant,
    harm: "",
    harm_source: "[h]",
    at_most_mg_kg: { value: 1, high: 51.8 },
    at_most_mg_l: { value: 1, high: null },
    at_most_mg_serving: { value: 1, high: 2.186 },
    most: "",
    carriers: [carrier(line)],
    tests: [{ rule: { source: "[t]" } }, { rule: { source: "[a]" } }],
    ...over,
});
const caution = (what, line, code = "worst_case") => ({ level: "over", what, because: "", source: "", code, step: 1, line });

test("a caution finds its worst case by place and name; another kind of caution has none", () => {
    const all = [worst("thujone", 2), worst("beta-thujone", 2), worst("coumarin", 3)];
    assert.equal(worstOf(all, caution("x: at most 4 mg/kg of thujone in the drink", 2)).toxicant, "thujone");
    assert.equal(worstOf(all, caution("x: at most 4 mg/kg of beta-thujone in the drink", 2)).toxicant, "beta-thujone");
    assert.equal(worstOf(all, caution("a name that was cut off", 3)).toxicant, "coumarin");
    assert.equal(worstOf(all, caution("a name that was cut off", 2)), undefined);
    assert.equal(worstOf(all, caution("of coumarin", 3, "coumarin")), undefined);
    assert.equal(worstOf(all, caution("of coumarin", 1)), undefined);
});

test("a bound has two digits and is never told below what it is", () => {
    const said = [0, 0.0341, 0.035, 1, 4.006, 9.99, 10, 41.2, 99.1, 1234, 10000].map(upTo);
    assert.deepEqual(said, ["0", "0.035", "0.035", "1.0", "4.1", "10.0", "10", "42", "100", "1\u2009300", "10\u2009000"]);
    for (let i = 0; i < 500; i++) {
        const x = 10 ** (8 * Math.random() - 4);
        assert.ok(Number(upTo(x).replace(/\u2009/g, "")) >= x * (1 - 1e-9), `${x} told as ${upTo(x)}`);
    }
});

test("what goes in is told with its weight, ceiling, mark and source; what nobody published is said so", () => {
    assert.deepEqual(carrierWords(worst("coumarin", 3)), [
        "Cinnamon stick (3.0\u2009g, 4.1\u2009g at most): up to 10\u2009000\u2009mg in a kilogram, so at most 41\u2009mg in the whole drink. [a]",
    ]);
    const unknown = carrier(1, { ceiling_mg_kg: null, in_drink_mg: { value: null, high: null }, figure: "unverified figure" });
    const [words] = carrierWords(worst("x", 1, { carriers: [unknown] }));
    assert.match(words, /published nowhere; unverified figure\. \[a\]$/);
    const found = carrier(1, { assay: { laboratory: "Quillmere", date: "2026-01-02" } });
    assert.match(carrierWords(worst("x", 1, { carriers: [found] }))[0], /found by Quillmere, 2026-01-02/);
    assert.equal(drinkWords(worst("x", 1), 40), "52\u2009mg/kg, 2.2\u2009mg in 40\u2009mL");
    assert.equal(sourcesOf(worst("x", 1)), "[t], [a], [h]");
});

test("one limit is one sentence; a document with a semicolon in its name is not cut", () => {
    assert.deepEqual(sentences("at most 5, over 1: A; B 2 (EU); at most 3 g a litre"), [
        "At most 5, over 1: A; B 2 (EU).",
        "At most 3 g a litre.",
    ]);
});

test("for whom: what is not said is left out, what cannot be is not sent, what was kept broken is nobody", () => {
    assert.deepEqual(whoBody({ place: "", serving_ml: "", body_weight_kg: "" }), {});
    assert.deepEqual(whoBody({ place: "eu", serving_ml: "25", body_weight_kg: "62,5" }), {
        place: "eu",
        serving_ml: 25,
        body_weight_kg: 62.5,
    });
    assert.deepEqual(whoBody({ place: "", serving_ml: "1001", body_weight_kg: "0" }), {});
    for (const bad of ["0", "-3", "x", "401"]) assert.match(wrongWith("body_weight_kg", bad), /1 to 400/);
    assert.match(wrongWith("serving_ml", "1001"), /1000/);
    assert.equal(wrongWith("serving_ml", ""), "");
    for (const kept of [null, "", "[", "null", '{"place":7}'])
        assert.deepEqual(whoOf(kept), { place: "", serving_ml: "", body_weight_kg: "" });
});

test("a colour that fades: what came is told beside what is left, and how fast it goes", () => {
    const f = (value) => ({ value, low: value, high: value, status: "ok" });
    const run = { time_days: [0, 10], strength_pct_vol: [f(0), f(0)], sugar_g_l: [f(0), f(0)], acid_g_l: [f(0), f(0)] };
    const curve = { name: "red", late: false, share: [f(0), f(0.4)], words: { name: "damson, red" } };
    assert.equal(fadeWords(curve), "");
    assert.equal(rowsAt(run, curve, 10).length, 1);
    const fading = { ...curve, given: [f(0), f(0.6)], half_faded_days: { value: 90, low: 50, high: 160 } };
    assert.match(fadeWords(fading), /^The colour fades: half of it in 90.days, likely between 50 and 160/);
    assert.equal(rowsAt(run, fading, 10)[1].told.value, "60.0\u2009%"); // told exactly where it is exact
});
