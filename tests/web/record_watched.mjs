// What to watch, for mock.mjs, each answer the program's own: record_watched.mjs PROGRAM > watched.json.  A recipe of the
// examples held against the strictest of all places and against one, as it is and with one amount changed.  Figures are
// cut to six digits, and what the page does not read is left out.
import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

const program = process.argv[2];
if (!program) throw new Error("which program? record_watched.mjs PROGRAM");
const recipe = readFileSync(fileURLToPath(new URL("../../examples/cherry_kernel.yaml", import.meta.url)), "utf8");
const dials = [{ step: 1, line: 3, of: "amount", value: 1 }];
const UNREAD = new Set(["label", "guest", "steps", "effects", "balance", "what_matters"]);

const server = spawn(program, ["serve", "--port", "0", "--json"], { stdio: ["ignore", "pipe", "inherit"] });
const port = await new Promise((done) => server.stdout.once("data", (line) => done(JSON.parse(String(line)).port)));
const address = `http://127.0.0.1:${port}/api`;

const cut = (text) =>
    JSON.parse(text, (key, x) => (UNREAD.has(key) ? undefined : typeof x === "number" ? Number(x.toPrecision(6)) : x));

async function post(path, body) {
    const headers = { "Content-Type": "application/json" };
    const response = await fetch(`${address}/${path}`, { method: "POST", headers, body: JSON.stringify(body) });
    return cut(await response.text());
}

const turned = await post("turn", { recipe, dials, write: true });
const places = cut(await (await fetch(`${address}/places`)).text());
const out = { recipe, turned, places: places.places, of: [] };
for (const place of ["strictest", "eu"])
    out.of.push({
        place,
        foreseen: await post("foresee", { recipe, place }),
        turned: await post("cautions", { recipe: turned.recipe, place }),
    });
server.kill("SIGTERM");
process.stdout.write(`${JSON.stringify(out)}\n`);
