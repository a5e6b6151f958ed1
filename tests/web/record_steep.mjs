// Jars over time for mock.mjs, each answer the program's own: record_steep.mjs PROGRAM > steep.json.  Figures are cut to
// five digits, and what the page does not read is left out.
import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

const program = process.argv[2];
if (!program) throw new Error("which program? record_steep.mjs PROGRAM");
const text = (name) => readFileSync(fileURLToPath(new URL(name, import.meta.url)), "utf8");
const sample = text("sample.yaml");
const two = text("../../examples/apricot_spice_two_jars.yaml");
const pours = text("../../examples/quince_two_pours.yaml");

// Which jar and what is changed; the first of a recipe answers for all others of it.
const ASKED = {
    sample: [
        { recipe: sample },
        { recipe: sample, what_if: ["damson frozen"] },
        { recipe: sample, what_if: ["spirit 60 %"] },
        { recipe: sample, what_if: ["spirit 60 %", "in the fridge"] },
        { recipe: sample, what_if: ["kiwi crushed"] },
        { recipe: sample, until_days: 7 },
    ],
    two: [
        { recipe: two },
        { recipe: two, jar: "spice jar" },
        { recipe: two, jar: "peel jar" },
        { recipe: two, jar: "spice jar", what_if: ["clove bud crushed"] },
    ],
    pours: [{ recipe: pours }, { recipe: pours, jar: "first" }],
};
const UNREAD = new Set(["how", "closure", "families", "stages", "mg_l", "volume_ml", "share_at_plan", "share_at_last", "undissolved_sugar_g",
    "half_out_days", "came_before"]);

const server = spawn(program, ["serve", "--port", "0", "--json"], { stdio: ["ignore", "pipe", "inherit"] });
const port = await new Promise((done) => server.stdout.once("data", (line) => done(JSON.parse(String(line)).port)));

async function record(body) {
    const response = await fetch(`http://127.0.0.1:${port}/api/steep`, {
        method: "POST",
        headers: { "Content-Type": "application/json" },
        body: JSON.stringify(body),
    });
    const doc = JSON.parse(await response.text(), (key, x) =>
        UNREAD.has(key) ? undefined : typeof x === "number" ? Number(x.toPrecision(5)) : x,
    );
    return { jar: body.jar ?? "", what_if: body.what_if ?? [], until_days: body.until_days ?? 0, status: response.status, doc };
}

const out = {};
for (const [name, all] of Object.entries(ASKED)) {
    out[name] = [];
    for (const body of all) out[name].push(await record(body));
}
server.kill("SIGTERM");
process.stdout.write(`${JSON.stringify(out)}\n`);
