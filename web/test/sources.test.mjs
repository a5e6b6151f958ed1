// Sources of a printed page: numbered once, cited by figures and cautions.  What the page tells of a refusal.
import assert from "node:assert/strict";
import { test } from "node:test";
import { load } from "./load.mjs";

const { named, numbered, sourceWords } = await load("sources.tsx");
const { byProblemLine } = await load("line_problems.tsx");
const { linesOf, withStrength } = await load("mix.tsx");
const { notThere } = await load("api.ts");

const FIGURES = [
    { key: "aa1999", title: "A table of *densities*.", of: ["strength", "sugar"] },
    { key: "bb2001", title: "Another", of: ["strength"] },
    { key: null, title: "from memory", of: ["damson"] },
];
const caution = (what, source) => ({ level: "note", what, because: "", source });

test("each source has one number, in the order in which the page needs it", () => {
    const list = numbered(FIGURES, [
        caution("one", "[bb2001], [cc2010]"),
        caution("two", "from memory"),
        caution("three", ""),
    ]);
    assert.deepEqual(
        list.map((s) => [s.n, s.text]),
        [
            [1, "A table of densities [aa1999]"],
            [2, "Another [bb2001]"],
            [3, "from memory"],
            [4, "[cc2010]"],
            [5, "no source is known"],
        ],
    );
    assert.equal(sourceWords(list, "strength"), "Sources 1 and 2");
    assert.equal(sourceWords(list, "sugar"), "Source 1");
    assert.equal(sourceWords(list, "one"), "Sources 2 and 4");
    assert.equal(sourceWords(list, "two"), "Source 3");
    assert.equal(sourceWords(list, "three"), "Source 5");
    assert.equal(sourceWords(list, "nothing"), "");
    assert.deepEqual(FIGURES[1].of, ["strength"]); // what was handed in stays as it was
    assert.deepEqual(named("[a] and [b_2]"), ["a", "b_2"]);
});

test("lines that are sent are those with something in them, and each knows where it stands", () => {
    const text = "  700 mL vodka\n\n200 g sugar\n";
    assert.deepEqual(
        linesOf(text).map((l) => [l.words, text.slice(l.from, l.to)]),
        [
            ["700 mL vodka", "  700 mL vodka"],
            ["200 g sugar", "200 g sugar"],
        ],
    );
    assert.equal(withStrength("a\n\nb", 2, "40 %"), "a\n\nb 40 %");
});

test("refusals of one line stand together, in the order of the lines", () => {
    const all = byProblemLine([
        { line: 3, what: "x" },
        { line: 1, what: "y" },
        { line: 3, what: "z" },
    ]);
    assert.deepEqual(
        all.map((l) => [l.line, l.problems.map((p) => p.what).join()]),
        [
            [1, "y"],
            [3, "x,z"],
        ],
    );
});

test("a program that is gone is to be started where this page was", () => {
    assert.match(notThere("8417").try, /“stillroom serve”$/);
    assert.match(notThere("9000").try, /“stillroom serve --port 9000”$/);
    assert.equal(notThere("1").gone, true);
});
