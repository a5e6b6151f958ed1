// A stand-in for `stillroom serve` while pages are tried: mock.mjs [PORT] [FOLDER].  Same headers, same documents
// (docs/api.md). Figures are the program's own, recorded by record.mjs in answers.json.  Three things are this file's:
// between recorded amounts figures go along straight lines and several changed amounts add up; pips are quantiles of
// two half normals through value, low and high; wishes are taken for independent in a joint count.  The reading of the
// sample is written by hand.
import { readFileSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import { dirname, extname, join, normalize } from "node:path";
import { fileURLToPath } from "node:url";
import { taken } from "./taken.mjs";

const here = dirname(fileURLToPath(import.meta.url));
const canned = JSON.parse(readFileSync(join(here, "answers.json"), "utf8"));
const steeped = JSON.parse(readFileSync(join(here, "steep.json"), "utf8")); // record_steep.mjs

const watched = JSON.parse(readFileSync(join(here, "watched.json"), "utf8")); // record_watched.mjs

export const HEADERS = {
    "Content-Security-Policy":
        "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; base-uri 'none'; form-action 'self'; object-src 'none'; frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
};
const TYPES = {
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".svg": "image/svg+xml",
    ".woff2": "font/woff2",
    ".txt": "text/plain; charset=utf-8",
};

// Standard normal at (i - 1/2)/20, from tables; the outermost stand at 1.96.
const Z = [0.0627, 0.1891, 0.3186, 0.4538, 0.5978, 0.7554, 0.9346, 1.1503, 1.4395, 1.96];

function pipsOf({ value, low, high }) {
    const below = Z.map((z) => value - ((value - low) * z) / 1.96).reverse();
    return [...below, ...Z.map((z) => value + ((high - value) * z) / 1.96)];
}

const TOLERANCE = { strength_pct_vol: 0.5, sugar_g_l: 5 };

function within(wish, name, x) {
    const w = wish?.[name];
    if (w === undefined) return null;
    const t = typeof w === "number" ? (TOLERANCE[name] ?? 0.02 * w) : 0;
    const [a, b] = typeof w === "number" ? [w - t, w + t] : w;
    return (a === null || x >= a) && (b === null || x <= b);
}

function dress(figures, wish) {
    const out = {};
    let joint = wish && Object.keys(wish).some((k) => k !== "bottle_ml") ? 1 : null;
    const bottle = (wish?.bottle_ml ?? 500) / 500;
    for (const [name, f] of Object.entries(figures)) {
        if (!f) continue;
        const by = name === "bottles" ? bottle : 1;
        const figure = { value: f.value / by, low: f.low / by, high: f.high / by, status: f.status };
        const pips = pipsOf(figure);
        out[name] = { ...figure, pips };
        if (within(wish, name, 0) === null) continue;
        out[name].in_wish = pips.filter((x) => within(wish, name, x)).length;
        joint *= out[name].in_wish / 20;
    }
    return { figures: out, joint, all_wishes: joint === null ? null : Math.floor(joint * 20 + 0.5) };
}

function at(dial, value, name, which) {
    const k = Math.min(dial.at.length - 2, Math.max(0, dial.at.findIndex((p) => p.value > value) - 1));
    const [a, b] = [dial.at[k], dial.at[k + 1]];
    const t = (value - a.value) / (b.value - a.value);
    return a.figures[name][which] * (1 - t) + b.figures[name][which] * t;
}

const known = new Map([[canned.sample, { foretold: canned.foretold, amounts: [] }]]);
for (const c of [canned.aimed, ...canned.ways, ...canned.kitchen]) known.set(c.recipe, c);

const isDial = (d) => (o) => o.line === d.line && o.of === d.of;

function told(d, value) {
    return d.unit === "piece" ? `${value}` : `${Math.round(value * 10) / 10} ${d.unit}`;
}

function turn({ recipe, dials = [], wish, write }) {
    const base = known.get(recipe) ?? known.get(canned.sample);
    const first = Object.fromEntries(
        ["strength_pct_vol", "sugar_g_l", "volume_ml", "bottles", "acid_g_l", "cost"].map((k) => [
            k,
            { ...base.foretold[k] },
        ]),
    );
    const now = canned.dials.map((d) => {
        const value = base.amounts.find(isDial(d))?.after ?? d.value;
        const wanted = dials.find(isDial(d))?.value ?? value;
        for (const name of Object.keys(first))
            for (const which of ["value", "low", "high"])
                first[name][which] += at(d, wanted, name, which) - at(d, value, name, which);
        const { at: _, ...rest } = d;
        return { ...rest, value: wanted, text: told(d, wanted) };
    });
    return { ...dress(first, wish), dials: now, notes: [], ...(write ? { recipe } : {}) };
}

const WORDS = { strength_pct_vol: "strength", sugar_g_l: "sugar", volume_ml: "volume" };

// As /api/foresee and /api/gauge tell them, titles shortened.
const FIGURES = ["strength", "sugar", "volume", "acid", "extract", "specific gravity 20/20"];
const SOURCES = [
    { key: "oiml1975", title: "International Alcoholometric Tables, OIML R 22", of: FIGURES },
    { key: "crc102", title: "CRC Handbook, 102nd ed.", of: [...FIGURES, "refractometer reading"] },
    { key: "eu_1169_2011", title: "Regulation (EU) No 1169/2011", of: ["energy"] },
    { key: null, title: "from memory", of: ["damson", "white sugar"] },
];

function document(doc, lines) {
    const pips = Object.fromEntries(
        ["strength_pct_vol", "sugar_g_l", "volume_ml", "bottles"].filter((k) => doc[k]).map((k) => [k, pipsOf(doc[k])]),
    );
    const words = Object.fromEntries(Object.entries(WORDS).map(([k, w]) => [w, `${Math.round(doc[k].value)}`]));
    if (doc.bottles)
        words.bottles =
            canned.foretold.bottles.value === doc.bottles.value
                ? "1 bottle of 500 mL and most of another"
                : `${Math.floor(doc.bottles.value)} bottles of 500 mL`;
    return { ...doc, pips, words, lines, sources: SOURCES, dials: turn({ recipe: canned.sample }).dials };
}

const LINES = [
    [1, "680 g damsons, pricked", "1½ lb damsons, pricked", "damson", 680, "g", null],
    [2, "700 mL vodka 40 %", "a bottle of vodka", "vodka", 700, "mL", 40],
    [3, "180-227 g sugar", "½ lb sugar, less if you like", "white sugar", 203.5, "g", null],
    [4, "3 bay leaves", "3 bay leaves", "bay leaf, dried", 3, "piece", null],
    [5, "2-5 g lemon peel", "a strip of lemon rind", "lemon peel, fresh", 3.5, "g", null],
].map(([line, text, said, name, amount, unit, strength_pct_vol]) => ({
    step: 1,
    line,
    step_kind: "steep",
    step_name: "jar",
    text,
    said,
    name,
    amount,
    unit,
    strength_pct_vol,
    can_change: true,
}));
const MIXED = ["700 mL vodka 40 %", "200 g sugar", "200 mL water"].map((text, i) => ({
    step: 1,
    line: i + 1,
    step_kind: "blend",
    step_name: "mix",
    text,
    said: null,
    name: text,
    amount: 1,
    unit: "g",
    strength_pct_vol: null,
    can_change: true,
}));

const foretold = (recipe) => document((known.get(recipe) ?? known.get(canned.sample)).foretold, LINES);

function withTexts(amounts) {
    return amounts.map((a) => ({ ...a, text_before: told(a, a.before), text_after: told(a, a.after) }));
}

function aim({ recipe, wish, kitchen }) {
    const one = turn({ recipe: canned.aimed.recipe, wish });
    const way = (c) => {
        const { figures } = turn({ recipe: c.recipe, wish });
        const gives = `${figures.strength_pct_vol.value.toFixed(1)} % vol, ${figures.sugar_g_l.value.toFixed(0)} g/L of sugar`;
        return { text: c.text, gives, gave_way: "", recipe: c.recipe, figures };
    };
    const out = {
        met: (one.all_wishes ?? 0) > 0,
        ...one,
        amounts: withTexts(canned.aimed.amounts),
        stopped_by: [],
        nearest: null,
        gave_way: "",
        ways: [],
        recipe: canned.aimed.recipe,
    };
    if (wish?.strength_pct_vol?.[0] > 24) {
        out.met = false;
        out.stopped_by = [{ what: "your one bottle of spirit", bound: "high", value: 700, unit: "mL", closes: 0.2 }];
        out.nearest = "23 % vol, 173 g/L";
        out.ways = canned.ways.map(way);
    }
    if (kitchen)
        out.alternatives = canned.kitchen.map((c) => ({
            text: c.text,
            tools: c.tools,
            amounts: withTexts(c.amounts),
            joint: turn({ recipe: c.recipe, wish }).joint,
            recipe: c.recipe,
        }));
    delete out.dials;
    delete out.notes;
    return out;
}

function gauge(body) {
    if (!body.sg || !body.brix)
        return [
            422,
            {
                errors: [
                    {
                        file: body.sg ? "brix" : "sg",
                        what: "two readings are needed",
                        why: "one alone leaves strength and sugar open",
                        try: "fill in the other one",
                    },
                ],
            },
        ];
    if (body.sg > 1.5)
        return [
            422,
            {
                errors: [
                    {
                        file: "sg",
                        what: `sg = ${body.sg}`,
                        why: "a hydrometer reads between 0.7 and 1.5",
                        try: "1.057",
                    },
                ],
            },
        ];
    const joint = [];
    const [s, g] = [canned.gauge.strength_pct_vol, canned.gauge.sugar_g_l];
    return [
        200,
        {
            ...canned.gauge,
            words: { strength: `${s.value.toFixed(1)} % vol`, sugar: `${Math.round(g.value)} g/L` },
            verdict: "ok",
            sources: SOURCES.slice(0, 2).map((s) => ({ ...s, of: ["strength", "sugar"] })),
            ...(joint.length ? { joint } : {}),
        },
    ];
}

// A recipe of several jars is known by its steps; what was not recorded is answered as the jar is written.
function steep({ recipe, jar = "", what_if = [], until_days = 0 }) {
    const of = recipe.includes("steep: spice jar") ? "two" : recipe.includes("steep: second") ? "pours" : "sample";
    const all = steeped[of];
    const named = all.filter((r) => !jar || r.doc.errors || r.doc.jar === jar);
    const one = named.find((r) => String(r.what_if) === String(what_if) && r.until_days === until_days) ?? named[0] ?? all[0];
    return [one.status, one.doc];
}

// The recipe of watched.json is answered as it was recorded, by where its maker lives; no other has a worst case.
const isWatched = (recipe) => recipe === watched.recipe || recipe === watched.turned.recipe;
const livesIn = ({ place = "strictest" }) => watched.of.find((w) => w.place === place) ?? watched.of[0];

function turnWatched({ dials = [], write }) {
    const { recipe, ...now } = watched.turned;
    const first = { ...now, dials: livesIn({}).foreseen.dials };
    return { ...(dials.length ? now : first), ...(write ? { recipe } : {}) };
}

function foreseen(b) {
    return isWatched(b.recipe) ? livesIn(b).foreseen : foretold(b.recipe);
}

const POST = {
    "/api/cautions": (b) => [200, b.recipe === watched.turned.recipe ? livesIn(b).turned : foreseen(b)],
    "/api/steep": steep,
    "/api/take": (b) =>
        b.text.includes("teapot")
            ? [
                  422,
                  {
                      errors: [
                          {
                              file: "text",
                              line: 1,
                              what: "nothing in it is known",
                              why: "no line names an amount of anything",
                              try: "write one ingredient a line",
                          },
                      ],
                  },
              ]
            : [200, taken(b, document(canned.foretold, LINES), canned.sample)],
    "/api/foresee": (b) => [200, foreseen(b)],
    "/api/turn": (b) => [200, isWatched(b.recipe) ? turnWatched(b) : turn(b)],
    "/api/aim": (b) => [200, aim(b)],
    "/api/mix": (b) =>
        b.lines.length
            ? [200, { ...document(canned.mix, MIXED), recipe: canned.sample }]
            : [
                  422,
                  {
                      errors: [
                          {
                              file: "lines",
                              what: "there is nothing to mix",
                              why: "no line was written",
                              try: "700 mL vodka 40 %",
                          },
                      ],
                  },
              ],
    "/api/gauge": gauge,
};

function getApi(url) {
    if (url.pathname === "/api/places") return [200, { places: watched.places }];
    if (url.pathname === "/api/ingredients") {
        const like = url.searchParams.get("like") ?? "";
        const names = ["damson", "vodka", "white sugar", "bay leaf, dried", "lemon peel, fresh"].filter((n) =>
            n.startsWith(like),
        );
        return [200, { ingredients: names.map((name) => ({ slug: name, name, kind: "other" })) }];
    }
    const key = /^\/api\/source\/([a-z0-9_]+)$/.exec(url.pathname)?.[1];
    const source = canned.sources.find((s) => s.key === key);
    if (source) return [200, { key, title: source.entry.title ?? key, text: source.entry.text ?? "" }];
    return [404, { errors: [{ what: "there is nothing here", why: url.pathname }] }];
}

async function bodyOf(request) {
    const parts = [];
    for await (const p of request) parts.push(p);
    return JSON.parse(Buffer.concat(parts).toString("utf8"));
}

function json(response, [status, body]) {
    response.writeHead(status, { ...HEADERS, "Content-Type": "application/json", "Cache-Control": "no-store" });
    response.end(JSON.stringify(body));
}

/** Listens on a free port (or the one given) and tells its address. */
export function serve(folder, port = 0, wait = 0) {
    const server = createServer(async (request, response) => {
        const url = new URL(request.url ?? "/", "http://localhost");
        if (url.pathname.startsWith("/api/")) {
            if (wait) await new Promise((r) => setTimeout(r, wait));
            try {
                const route = POST[url.pathname];
                if (request.method === "POST" && route) return json(response, route(await bodyOf(request)));
                return json(response, getApi(url));
            } catch (e) {
                return json(response, [400, { errors: [{ what: "the request was not understood", why: String(e) }] }]);
            }
        }
        const name = normalize(url.pathname === "/" ? "/index.html" : url.pathname);
        try {
            const file = await readFile(join(folder, name));
            response.writeHead(200, { ...HEADERS, "Content-Type": TYPES[extname(name)] ?? "application/octet-stream" });
            response.end(file);
        } catch {
            response.writeHead(404, HEADERS);
            response.end();
        }
        return undefined;
    });
    return new Promise((done) =>
        server.listen(port, "127.0.0.1", () => done({ server, url: `http://127.0.0.1:${server.address().port}/` })),
    );
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
    const folder = process.argv[3] ?? join(here, "../../build/web");
    const { url } = await serve(folder, Number(process.argv[2] ?? 8080));
    process.stdout.write(`${url}\n`);
}
