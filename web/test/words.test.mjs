import assert from "node:assert/strict";
import { test } from "node:test";
import { load } from "./load.mjs";

const { readShare, together } = await load("blank.ts");
const { metWords, stopWords, wayWords } = await load("ways.tsx");
const { withLabels } = await load("test_bottle.tsx");
const { readRange, readNumber, tellRange, wishOf, blanksOf, jointCount } = await load("blank.ts");
const { rangeOf } = await load("blank.ts");
const { readAmount } = await load("amount.ts");
const { typedValue } = await load("amounts.tsx");
const { isRecipeFile } = await load("recipe_file.ts");
const { forPeople, leftOutWords } = await load("parts.tsx");
const { cautionsByRow, notReadWords } = await load("readback.tsx");
const { bottleWords, trioWish } = await load("trio.tsx");
const { fileName } = await load("keep.tsx");
const { costWords } = await load("ways.tsx");
const { routeOf } = await load("shell.tsx");
const { bodyOf, readWarmth } = await load("test_bottle.tsx");
const { withStrength } = await load("mix.tsx");

test("a blank is read as people write it", () => {
    for (const [text, range] of [
        ["22 to 24", [22, 24]],
        ["24-22", [22, 24]],
        ["22–24", [22, 24]],
        ["22,5 to 24", [22.5, 24]],
        ["at least 2", [2, null]],
        ["2 or more", [2, null]],
        ["at most 150", [null, 150]],
        ["under 150", [null, 150]],
        ["24", 24],
        ["24 % vol", 24],
        ["180 g/L", 180],
        ["between 22 and 24", [22, 24]],
        ["", null],
        ["  ", null],
        ["any", null],
        ["strong", undefined],
        ["1 2 3", undefined],
        ["1e9", undefined],
        ["-3", undefined],
        ["24 apples", undefined],
    ])
        assert.deepEqual(readRange(text), range, text);
    assert.equal(readNumber("640 g"), 640);
    assert.equal(readNumber("1,5"), 1.5);
    assert.equal(readNumber("about 7"), 7);
    assert.equal(readNumber("none"), null);
});

test("a range is told as it is read", () => {
    for (const range of [
        [22, 24],
        [2, null],
        [null, 150],
    ])
        assert.deepEqual(readRange(tellRange(range)), range);
    assert.equal(tellRange([null, null]), "");
});

test("the sentence as a wish: one number is one number, bottles are full and at most a tenth over, cost is at most", () => {
    const blanks = { strength: "22 to 24", sugar: "180", bottles: "2", size: "0.5 L", acid: "", cost: "20" };
    const { wish, problems } = wishOf(blanks);
    assert.deepEqual(problems, []);
    assert.deepEqual(wish, {
        strength_pct_vol: [22, 24],
        sugar_g_l: 180,
        bottles: [2, 2.2],
        bottle_ml: 500,
        cost: [null, 20],
    });
    assert.deepEqual(trioWish(wish).volume, [1, 1.1]);
    assert.deepEqual(trioWish(wish).sugar, [175, 185]);
    assert.deepEqual(rangeOf("acid_g_l", 10), [9.5, 10.5]);
    for (const bottles of ["0", "-3", "1e9", "2.5", "2000"])
        assert.deepEqual(
            wishOf({ ...blanks, bottles }).problems.map((p) => p.file),
            ["bottles"],
            bottles,
        );
    assert.deepEqual(
        wishOf({ ...blanks, strength: "150" }).problems.map((p) => p.file),
        ["strength"],
    );
    assert.deepEqual(wishOf({ ...blanks, bottles: "", size: "" }).wish.bottle_ml, undefined);
    assert.equal(wishOf({ strength: "", sugar: "", bottles: "", size: "500 mL", acid: "", cost: "" }).wish, null);
    assert.deepEqual(
        wishOf({ ...blanks, strength: "high", size: "big" }).problems.map((p) => p.file),
        ["strength", "size"],
    );
});

test("a wish of the recipe fills the blanks and comes back the same", () => {
    const wish = { strength_pct_vol: [20, 24], sugar_g_l: [150, 200], bottles: [2, null], bottle_ml: 350 };
    assert.deepEqual(wishOf(blanksOf(wish, 500)).wish, wish);
    assert.equal(blanksOf(null, 700).size, "700 mL");
});

test("joint counts in words", () => {
    const two = { strength_pct_vol: [1, 2], sugar_g_l: [1, 2], bottle_ml: 500 };
    assert.equal(jointCount(0.0675, { ...two, bottles: [2, null] }), "1 of 20 meets all three wishes");
    assert.equal(jointCount(0.02, two), "fewer than 1 of 20 meets both wishes");
    assert.equal(jointCount(0, two), "fewer than 1 of 20 meets both wishes");
    assert.equal(jointCount(0.9, { strength_pct_vol: [1, 2] }), "18 of 20 meet your wish");
    assert.equal(jointCount(null, two), "");
});

test("what kitchen amounts cost in certainty", () => {
    assert.equal(costWords(0.5, 0.7), "costs 4 of 20 makings");
    assert.equal(costWords(0.7, 0.7), "as sure as exact amounts");
    assert.equal(costWords(0.8, 0.7), "gains 2 of 20 makings");
    assert.equal(costWords(null, 0.7), "");
});

test("a number box reads units and refuses what it cannot take, in words", () => {
    for (const [text, unit, value] of [
        ["2 kg", "g", 2000],
        ["2kg", "g", 2000],
        ["1 lb", "g", 453.592],
        ["8 oz", "g", 226.796],
        ["0,5 L", "mL", 500],
        ["70 cl", "mL", 700],
        ["1 1/2", "piece", 1.5],
        ["½", "piece", 0.5],
        ["3 leaves", "piece", 3],
        ["640", "g", 640],
        ["42 %", "% vol", 42],
    ])
        assert.deepEqual(readAmount(text, unit), { value }, text);
    for (const [text, unit] of [
        ["banana", "g"],
        ["2 kg", "mL"],
        ["2 cups", "g"],
        ["-3", "g"],
        ["", "g"],
        ["1e9", "g"],
    ])
        assert.ok(readAmount(text, unit).why, text);
    const dial = { step: 1, line: 1, of: "amount", value: 250, low: 60, high: 500, tick: 5, unit: "g" };
    assert.deepEqual(typedValue("2 kg", dial, 250), { value: 2000 });
    assert.match(typedValue("6 kg", dial, 250).why, /more than 20 times/);
    assert.match(typedValue("0", dial, 250).why, /nothing/);
    assert.match(typedValue("150", { ...dial, of: "strength", unit: "% vol" }, 40).why, /96 % vol/);
});

test("a kept recipe file is told from a recipe in words", () => {
    for (const text of [
        "schema_version: 1\ntitle: A\n",
        "# Invented.\n\nschema_version: 1\n",
        "title: A\nsteps:\n  - steep: jar\n    add: [1 kg damsons]\n",
    ])
        assert.ok(isRecipeFile(text), text);
    for (const text of ["Damson\n1 kg damsons\n", "Steps:\n- Steep for 4 weeks\n", "steps: first, then\n"])
        assert.ok(!isRecipeFile(text), text);
});

test("what only a programmer can act on is not shown", () => {
    const told = forPeople({ what: "cannot read \"wish.bottles\"", why: "no size", try: "add \"bottle_ml\": 500 to the wish" });
    assert.deepEqual(told, { what: "cannot read \"wish.bottles\"", why: "no size" });
    const odd = forPeople({ what: "NUL without JSON_ALLOW_NUL", try: "send for example {\"text\": \"\"}" });
    assert.doesNotMatch(JSON.stringify(odd), /JSON|send/);
    assert.ok(odd.try.length > 0);
});

test("what was left out, and an answer that was not read, are told in words", () => {
    assert.equal(leftOutWords(0), "");
    assert.equal(leftOutWords(1), "One thing was not understood and is not in these figures.");
    assert.equal(leftOutWords(4), "Four things were not understood and are not in these figures.");
    assert.match(notReadWords({ not_read: "banana", options: ["40"], own_words: true }), /“banana” could not be read/);
    assert.equal(notReadWords({ not_read: null, options: [], own_words: true }), "");
});

test("a caution stands at the row that brings it, the same one once, the rest behind", () => {
    const row = (line, at) => ({ line, at });
    const rows = [row(1, null), row(2, { step: 1, line: 1 }), row(3, { step: 1, line: 2 })];
    const c = (what, step, line) => ({ what, step, line });
    const { at, rest } = cautionsByRow(rows, [c("yew: poisonous", 1, 2), c("yew: poisonous", 2, 1), c("alcohol")]);
    assert.deepEqual(
        [...at].map(([r, list]) => [r.line, list.map((x) => x.what)]),
        [[3, ["yew: poisonous"]]],
    );
    assert.deepEqual(
        rest.map((x) => x.what),
        ["alcohol"],
    );
});

test("bottles in words: the number large, the rest beside it", () => {
    assert.deepEqual(bottleWords("2 bottles of 350 mL and two thirds of another"), {
        label: "Bottles of 350 mL",
        number: "2",
        rest: "and two thirds of another",
    });
    assert.deepEqual(bottleWords("1 bottle of 1.5 L"), { label: "Bottles of 1.5 L", number: "1", rest: "" });
    assert.equal(bottleWords("most of a bottle"), null);
    assert.equal(bottleWords(undefined), null);
});

test("a file's name, a page's name", () => {
    assert.equal(fileName("Hedge plum & bay, 2nd"), "hedge_plum_bay_2nd.yaml");
    assert.equal(fileName("Crème"), "creme.yaml");
    assert.equal(fileName("梅酒"), "recipe.yaml");
    assert.equal(routeOf("#make"), "make");
    assert.equal(routeOf("#nowhere"), "recipe");
});

test("readings as figures; what is no figure is told at its field", () => {
    assert.deepEqual(bodyOf({ sg: "1,057", brix: "26", sg_boiled: "" }, true, true), {
        body: { sg: 1.057, brix: 26, hydrometer: "60F", atc: false },
        problems: [],
    });
    assert.equal(bodyOf({ sg: "low" }, false, false).problems[0].file, "sg");
    assert.equal(bodyOf({ sg: "1.05", temperature_c: "20" }, false, false).problems[0].file, "brix");
    assert.equal(bodyOf({ brix: "26", flask_ml: "100" }, false, false).problems[0].file, "sg");
    assert.deepEqual(bodyOf({ brix: "26", flask_ml: "100", flask_g: "103" }, false, false).problems, []);
    assert.deepEqual(bodyOf({ sg: "1.05", sugar_g_l: "200" }, false, false).problems, []);
});

test("a reading agrees where what is likely of it meets what was foreseen", async () => {
    const { agreement } = await load("agrees.ts");
    const f = (value, low, high) => ({ value, low, high, status: "ok" });
    const foreseen = f(20, 18.4, 21.7);
    assert.deepEqual(agreement(f(19.5, 18.2, 20.9), foreseen, "Damson"), {
        verdict: "It agrees.",
        side: "Foreseen for Damson: 20.0, likely between 18.4 and 21.7.",
    });
    assert.equal(agreement(f(23, 22, 24), foreseen, "Damson").verdict, "Higher than foreseen.");
    assert.equal(agreement(f(17, 16, 18), foreseen, "Damson").verdict, "Lower than foreseen.");
});

test("the warmth is read in either scale, and refused in words where nothing is read", () => {
    for (const [text, value] of [
        ["20", 20],
        ["20 °C", 20],
        ["68 F", 20],
        ["68°F", 20],
        ["21,5", 21.5],
    ])
        assert.deepEqual(readWarmth(text), { value }, text);
    assert.match(readWarmth("-40").why, /colder than ice/);
    assert.match(readWarmth("68").why, /in Fahrenheit it is 68 F/);
    assert.match(readWarmth("warm").why, /number/);
    assert.equal(bodyOf({ sg: "-1", brix: "26" }, false, false).problems[0].file, "sg");
});

test("a strength that is answered is written on its line", () => {
    assert.equal(withStrength("200 g sugar\n\n700 ml vodka", 2, "40"), "200 g sugar\n\n700 ml vodka 40 %");
    assert.equal(withStrength("700 ml vodka", 1, "37.5 % vol"), "700 ml vodka 37.5 %");
});

test("numbers in words and shares of what the recipe has", () => {
    assert.equal(readRange("two"), 2);
    assert.deepEqual(readRange("two to three"), [2, 3]);
    assert.equal(readShare("a fifth less"), 0.8);
    assert.equal(readShare("two fifths less"), 0.6);
    assert.equal(readShare("20 % more"), 1.2);
    assert.equal(readShare("three thirds less"), null);
    assert.equal(readRange("a fifth less", 160), 128);
    assert.equal(readRange("a fifth less sweet", 160), 128);
    assert.equal(readRange("a fifth less"), undefined); // than what?
    const blanks = { strength: "", sugar: "a fifth less", bottles: "two", size: "500 mL", acid: "", cost: "" };
    assert.deepEqual(wishOf(blanks, { sugar: 160 }), {
        wish: { sugar_g_l: 128, bottles: [2, 2.2], bottle_ml: 500 },
        problems: [],
    });
});

test("what is not understood is said once, of all blanks together", () => {
    const blanks = { strength: "strong", sugar: "sweet", bottles: "lots", size: "500 mL", acid: "", cost: "" };
    const { problems } = wishOf(blanks);
    assert.deepEqual(problems.map((p) => p.file), ["strength", "sugar", "bottles"]);
    const once = together(problems);
    assert.equal(once.length, 1);
    assert.equal(once[0].what, '"strong", "sweet", "lots" are not understood as wishes');
    assert.equal(together(wishOf({ ...blanks, sugar: "", bottles: "" }).problems)[0].what, '"strong" is not understood as a wish');
});

test("an answer says how sure it is, what hardly helps is left out, and a way says what it gives", () => {
    const wish = { strength_pct_vol: 24, sugar_g_l: 150, bottles: [2, 2.2], bottle_ml: 500 };
    assert.equal(metWords({ joint: 0.1 }, wish), "Nearest to your wish: 2 of 20 meet all three wishes");
    assert.equal(metWords({ joint: 0.8 }, wish), "Amounts that meet your wish: 16 of 20 meet all three wishes");
    assert.equal(metWords({ joint: null }, wish), "Amounts that meet your wish");
    const stop = (what, closes) => ({ what, closes });
    assert.equal(stopWords([stop("the vessel", 0.3), stop("water", 0.004), stop("sugar", 0.1)]), "the vessel and sugar");
    assert.equal(stopWords([stop("sugar in the syrup", 0)]), "sugar in the syrup");
    assert.equal(wayWords({ text: "Take less", gives: "24 % vol" }), "Take less: gives 24 % vol");
});

test("a hydrometer read without its point, and names as the page has them", () => {
    const { problems } = bodyOf({ sg: "1043", brix: "28" }, false, false);
    assert.equal(problems.length, 1);
    assert.equal(problems[0].file, "sg");
    assert.equal(problems[0].what, "hydrometer: did you mean 1.043?");
    assert.match(bodyOf({ sg: "1.043", brix: "128" }, false, false).problems[0].what, /refractometer: 128 cannot be/);
    assert.equal(withLabels({ what: 'cannot read "sg_boiled"' }).what, "cannot read hydrometer after boiling");
});
