import assert from "node:assert/strict";
import { test } from "node:test";
import { load } from "./load.mjs";

const { Latest } = await load("latest.ts");
const { byKey, snapped, ticksOf, valueText, tellAmount } = await load("slider.tsx");
const { ring, corners } = await load("two.tsx");
const { changeWords } = await load("turning.ts");
const { heap } = await load("heap.ts");
const { dialKey } = await load("amounts.tsx");

function held() {
    const open = [];
    const send = (asked) => new Promise((done, fail) => open.push({ asked, done, fail }));
    return { open, send };
}
const tick = () => new Promise((r) => setTimeout(r, 0));

test("one question at a time; the newest goes next, those between are dropped", async () => {
    const { open, send } = held();
    const got = [];
    const latest = new Latest(send, (answer, asked) => got.push([asked, answer]), assert.fail);
    for (const v of [1, 2, 3, 4]) latest.ask(v);
    assert.deepEqual(
        open.map((o) => o.asked),
        [1],
    );
    open[0].done("a");
    await tick();
    assert.deepEqual(
        open.map((o) => o.asked),
        [1, 4],
    );
    assert.equal(latest.busy, true);
    open[1].done("b");
    await tick();
    assert.deepEqual(got, [
        [1, "a"],
        [4, "b"],
    ]);
    assert.equal(latest.busy, false);
});

test("a refusal is told and the newest still goes; nothing comes after a stop", async () => {
    const { open, send } = held();
    const got = [];
    const failed = [];
    const latest = new Latest(
        send,
        (a) => got.push(a),
        (e) => failed.push(e),
    );
    latest.ask(1);
    latest.ask(2);
    open[0].fail("no");
    await tick();
    assert.deepEqual(failed, ["no"]);
    assert.equal(open[1].asked, 2);
    latest.ask(3);
    latest.stop();
    open[1].done("late");
    await tick();
    assert.deepEqual(got, []);
    assert.equal(open.length, 2);
});

test("keys: arrows one kitchen step, page keys five, ends at the ends", () => {
    const dial = { tick: 20, low: 100, high: 1000 };
    assert.equal(byKey("ArrowRight", 640, dial), 660);
    assert.equal(byKey("ArrowDown", 640, dial), 620);
    assert.equal(byKey("PageUp", 640, dial), 740);
    assert.equal(byKey("PageDown", 150, dial), 100);
    assert.equal(byKey("ArrowRight", 725, { tick: 10, low: 180, high: 1450 }), 730);
    assert.equal(byKey("ArrowLeft", 725, { tick: 10, low: 180, high: 1450 }), 720);
    assert.equal(byKey("Home", 640, dial), 100);
    assert.equal(byKey("End", 640, dial), 1000);
    assert.equal(byKey("Tab", 640, dial), null);
    assert.equal(snapped(647.3, dial), 640);
    assert.equal(snapped(3.3, { tick: 0.5, low: 1, high: 12 }), 3.5);
});

test("ticks can be told apart on any page, and lie between the ends", () => {
    for (const width of [90, 200, 330, 600])
        for (const dial of [
            { tick: 1, low: 0, high: 1000 },
            { tick: 25, low: 300, high: 1400 },
            { tick: 0.1, low: 0, high: 60 },
            { tick: 1, low: 1, high: 3 },
        ]) {
            const ticks = ticksOf(dial, width);
            assert.ok(ticks.length >= 2 && ticks.length <= width / 7, `${ticks.length} ticks on ${width} px`);
            for (const t of ticks) assert.ok(t >= dial.low - 1e-9 && t <= dial.high + 1e-9);
        }
});

test("a value as it is spoken", () => {
    const dial = {
        step: 1,
        line: 1,
        of: "amount",
        value: 640,
        low: 0,
        high: 1000,
        tick: 20,
        unit: "g",
        text: "640 g",
        name: "damsons",
    };
    assert.equal(valueText(640, dial), "640 grams of damsons");
    assert.equal(valueText(3, { ...dial, unit: "piece", tick: 1, name: "bay leaves" }), "3 bay leaves");
    assert.equal(
        valueText(43, { ...dial, of: "strength", unit: "% vol", tick: 1, name: "vodka" }),
        "vodka at 43 per cent by volume",
    );
    assert.equal(tellAmount(203.5, { tick: 10 }), "204");
    assert.equal(tellAmount(3.5, { tick: 0.5 }), "3.5");
    assert.equal(dialKey(dial), "1.1.amount");
});

test("what changed, in words, and nothing where nothing did", () => {
    const at = (s, g) => ({ figures: { strength_pct_vol: { value: s }, sugar_g_l: { value: g } } });
    assert.equal(changeWords(at(21, 190), at(20, 190.2)), "Strength 21.0, was 20.0.");
    assert.equal(changeWords(at(21, 190), at(21, 190)), "");
    assert.equal(changeWords(at(21, 190), null), "");
});

test("the line of a scatter holds about 19 of 20 and follows its slant", () => {
    const points = Array.from({ length: 4000 }, (_, i) => {
        const r = Math.sqrt(-2 * Math.log((i + 0.5) / 4000));
        const t = i * 2.399963;
        const [u, v] = [r * Math.cos(t), r * Math.sin(t)];
        return [20 + u, 200 - 5 * u + 4 * v];
    });
    const line = ring(points, 360);
    const inside = ([x, y]) => {
        let n = 0;
        for (let i = 0; i + 1 < line.length; i++) {
            const [[a, b], [c, d]] = [line[i], line[i + 1]];
            if (b > y !== d > y && x < a + ((y - b) / (d - b)) * (c - a)) n++;
        }
        return n % 2 === 1;
    };
    const share = points.filter(inside).length / points.length;
    assert.ok(share > 0.93 && share < 0.97, `${share}`);
    assert.equal(corners([20, 22], [180, 200]).length, 4);
    assert.deepEqual(corners([20, null], [180, 200]), []);
});

test("a long row becomes several of at most twice so many where there is no room to either side, all pips drawn, none across the wish", () => {
    const pips = heap({
        values: Array(20).fill(20),
        wish: [22, 24],
        place: (v) => 10 * (v - 10),
        pip: { width: 8, height: 6, gap: 1 },
        ends: [0, 200],
        most: 7,
    });
    assert.equal(pips.length, 20);
    const rows = new Map();
    for (const p of pips) rows.set(p.y, (rows.get(p.y) ?? 0) + 1);
    assert.ok([...rows.values()].every((n) => n <= 14));
    assert.ok(pips.every((p) => !p.inside && p.y + 3 <= 120));
});
