// Canned figures for mock.mjs, every one printed by the program: record.mjs PROGRAM > answers.json The recipe of the
// sample as it is, then one amount changed at a time, then what an aim and kitchen amounts might come to.
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const program = process.argv[2];
if (!program) throw new Error("which program? record.mjs PROGRAM");
const dir = mkdtempSync(join(tmpdir(), "record-"));
const sample = readFileSync(fileURLToPath(new URL("sample.yaml", import.meta.url)), "utf8");

function run(args, ok = [0, 1]) {
    try {
        return JSON.parse(
            execFileSync(program, [...args, "--json"], { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] }),
        );
    } catch (e) {
        if (ok.includes(e.status)) return JSON.parse(e.stdout);
        throw e;
    }
}

// Without the steps, and with no more than five of what matters.
function short({ steps: _, what_matters, ...rest }) {
    return { ...rest, what_matters: what_matters.slice(0, 5) };
}

function foresee(recipe) {
    const file = join(dir, "recipe.yaml");
    writeFileSync(file, recipe);
    return short(run(["foresee", file]));
}

// Each dial: where it stands in the text, and how it is written with another value.
const DIALS = [
    {
        line: 1,
        of: "amount",
        name: "damsons",
        unit: "g",
        value: 680,
        low: 300,
        high: 1200,
        tick: 20,
        from: "680 g damsons",
        to: (v) => `${v} g damsons`,
    },
    {
        line: 2,
        of: "amount",
        name: "vodka",
        unit: "mL",
        value: 700,
        low: 300,
        high: 1400,
        tick: 25,
        from: "700 mL vodka",
        to: (v) => `${v} mL vodka`,
    },
    {
        line: 2,
        of: "strength",
        name: "vodka",
        unit: "% vol",
        value: 40,
        low: 30,
        high: 60,
        tick: 1,
        from: "vodka 40 %",
        to: (v) => `vodka ${v} %`,
    },
    {
        line: 3,
        of: "amount",
        name: "sugar",
        unit: "g",
        value: 203.5,
        low: 50,
        high: 450,
        tick: 10,
        from: "180-227 g sugar",
        to: (v) => `${v} g sugar`,
    },
    {
        line: 4,
        of: "amount",
        name: "bay leaves",
        unit: "piece",
        value: 3,
        low: 1,
        high: 8,
        tick: 1,
        from: "3 bay leaves",
        to: (v) => `${v} bay leaves`,
    },
    {
        line: 5,
        of: "amount",
        name: "lemon peel",
        unit: "g",
        value: 3.5,
        low: 1,
        high: 12,
        tick: 0.5,
        from: "2-5 g lemon peel",
        to: (v) => `${v} g lemon peel`,
    },
];
const FOLLOWED = ["strength_pct_vol", "sugar_g_l", "volume_ml", "bottles", "acid_g_l", "cost"];
const few = (doc) => Object.fromEntries(FOLLOWED.map((k) => [k, doc[k]]));

const dials = DIALS.map((d) => {
    const at = [];
    for (let i = 0; i <= 8; i++) {
        const value = Math.round((d.low + ((d.high - d.low) * i) / 8) * 10) / 10;
        at.push({ value, figures: few(foresee(sample.replace(d.from, d.to(value)))) });
    }
    const { from: _f, to: _t, ...rest } = d;
    return { step: 1, ...rest, at };
});

function changed(list) {
    let recipe = sample;
    const amounts = list.map(([i, after, text]) => {
        const d = DIALS[i];
        recipe = recipe.replace(d.from, d.to(text ?? after));
        return { step: 1, line: d.line, of: d.of, name: d.name, before: d.value, after, unit: d.unit };
    });
    return { amounts, recipe, foretold: foresee(recipe) };
}

const aimed = changed([
    [0, 560],
    [1, 780],
    [3, 185],
]);
const kitchen = [
    {
        text: "weigh everything to 10 g",
        tools: 1,
        ...changed([
            [0, 560],
            [1, 775],
            [3, 190],
        ]),
    },
    {
        text: "a pint jug for the spirit",
        tools: 2,
        ...changed([
            [0, 560],
            [1, 800],
            [3, 190],
        ]),
    },
    {
        text: "one bottle of spirit, as bought",
        tools: 1,
        ...changed([
            [0, 480],
            [1, 700],
            [3, 160],
        ]),
    },
    {
        text: "the sugar by the cup",
        tools: 2,
        ...changed([
            [0, 560],
            [1, 780],
            [3, 227],
        ]),
    },
];
const ways = [
    { text: "Take 180 g less damsons", ...changed([[0, 500]]) },
    { text: "Take a spirit of 45 % vol", ...changed([[2, 45]]) },
];

const mix = short(run(["mix", "700 mL vodka 40 %", "200 g sugar", "200 mL water"]));
const gauge = run(["gauge", "--sg", "1.057", "--brix", "26", "--temperature", "20"]);
const sources = ["delle_floors", "bolarinwa_2014"].map((key) => ({ key, entry: run(["source", key]) }));

process.stdout.write(
    JSON.stringify({ sample, foretold: foresee(sample), dials, aimed, kitchen, ways, mix, gauge, sources }) + "\n",
);
