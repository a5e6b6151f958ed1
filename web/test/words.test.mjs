import assert from "node:assert/strict";
import { test } from "node:test";
import { load } from "./load.mjs";

const { readRange, readNumber, tellRange, wishOf, blanksOf, jointCount } = await load("blank.ts");
const { splitAmount } = await load("recipe.tsx");
const { bottleWords, trioWish } = await load("trio.tsx");
const { fileName } = await load("keep.tsx");
const { costWords } = await load("ways.tsx");
const { routeOf } = await load("shell.tsx");
const { bodyOf } = await load("test_bottle.tsx");

test("a blank is read as people write it", () => {
    const half = () => 0.5;
    for (const [text, range] of [
        ["22 to 24", [22, 24]],
        ["24-22", [22, 24]],
        ["22–24", [22, 24]],
        ["22,5 to 24", [22.5, 24]],
        ["at least 2", [2, null]],
        ["2 or more", [2, null]],
        ["at most 150", [null, 150]],
        ["under 150", [null, 150]],
        ["24", [23.5, 24.5]],
        ["0.2", [0, 0.7]],
        ["", null],
        ["  ", null],
        ["any", null],
        ["strong", undefined],
        ["1 2 3", undefined],
    ])
        assert.deepEqual(readRange(text, half), range, text);
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
        assert.deepEqual(
            readRange(tellRange(range), () => 0),
            range,
        );
    assert.equal(tellRange([null, null]), "");
});

test("the sentence as a wish: bottles are at least, cost is at most, size is in millilitres", () => {
    const blanks = { strength: "22 to 24", sugar: "180", bottles: "2", size: "0.5 L", acid: "", cost: "20" };
    const { wish, problems } = wishOf(blanks);
    assert.deepEqual(problems, []);
    assert.deepEqual(wish, {
        strength_pct_vol: [22, 24],
        sugar_g_l: [175, 185],
        bottles: [2, null],
        bottle_ml: 500,
        cost: [null, 20],
    });
    assert.deepEqual(trioWish(wish).volume, [1, null]);
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

test("an amount is set apart from what it is of", () => {
    assert.deepEqual(splitAmount("680 g damsons, pricked"), ["680 g", "damsons, pricked"]);
    assert.deepEqual(splitAmount("180-227 g sugar"), ["180-227 g", "sugar"]);
    assert.deepEqual(splitAmount("1 1/2 cups sugar"), ["1 1/2 cups", "sugar"]);
    assert.deepEqual(splitAmount("3 bay leaves"), ["3", "bay leaves"]);
    assert.deepEqual(splitAmount("all of jar"), ["", "all of jar"]);
    assert.deepEqual(splitAmount("gin"), ["", "gin"]);
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
