import assert from "node:assert/strict";
import { test } from "node:test";
import { load } from "./load.mjs";

const { fitted, heap, isInside } = await load("heap.ts");
const { scaleAbout, roundStep } = await load("scale.ts");
const { rounded, placeOf } = await load("figure.ts");

const pip = { width: 10, height: 8, gap: 2 };
const quantiles = (low, high) => Array.from({ length: 20 }, (_, i) => low + ((high - low) * i) / 19);

function draw(values, wish, min, max, height = 240) {
    const place = (v) => (height * (v - min)) / (max - min);
    return { place, pips: heap({ values, wish, place, pip, ends: [0, height] }) };
}

test("every pip is drawn, and inside is what the wish says", () => {
    for (const wish of [undefined, [22, 24], [null, 21], [21, null], [30, 31], [20.9, 21.1]]) {
        const values = quantiles(19.4, 22.6);
        const { pips } = draw(values, wish, 15, 32);
        assert.equal(pips.length, 20);
        assert.equal(pips.filter((p) => p.inside).length, values.filter((v) => isInside(v, wish)).length);
    }
});

test("no pip lies across an edge of the wish", () => {
    for (let k = 0; k < 200; k++) {
        const a = 18 + (k % 17) * 0.3;
        const b = a + 1.2 + (k % 5);
        const values = quantiles(17 + (k % 7), 20 + (k % 11));
        const { place, pips } = draw(values, [a, b], 10, 34, 300);
        for (const p of pips)
            for (const edge of [place(a), place(b)])
                assert.ok(Math.abs(p.y - edge) >= pip.height / 2 - 1e-9, `pip at ${p.y} across ${edge}`);
    }
});

test("rows do not overlap, and pips of one row do not either", () => {
    for (let k = 1; k < 60; k++) {
        const { pips } = draw(quantiles(20, 20 + k * 0.2), undefined, 10, 40);
        for (const p of pips)
            for (const q of pips)
                if (p !== q)
                    assert.ok(
                        Math.abs(p.y - q.y) >= pip.height - 1e-9 || Math.abs(p.x - q.x) >= pip.width - 1e-9,
                        `two pips touch at spread ${k * 0.2}`,
                    );
    }
});

test("no pip is drawn beyond the outermost values, but for its own half height", () => {
    for (const wide of [0.6, 1, 2, 5])
        for (const wish of [undefined, [39.5, 41], [40, 42]]) {
            const values = quantiles(40 - wide / 2, 40 + wide / 2);
            const place = (v) => (212 * (v - 38)) / 4;
            const { pips } = { pips: heap({ values, wish, place, pip, ends: [0, 212], most: 6 }) };
            const across = wish ? pip.height : pip.height / 2; // an edge of the wish may need the other half
            for (const p of pips) {
                assert.ok(p.y >= place(values[0]) - across - 1e-9, `${p.y} below at ${wide} ${wish}`);
                assert.ok(p.y <= place(values[19]) + across + 1e-9, `${p.y} above at ${wide} ${wish}`);
            }
        }
});

test("an exact figure is one row; a scattered one is many", () => {
    assert.equal(new Set(draw(Array(20).fill(20), undefined, 10, 30).pips.map((p) => p.y)).size, 1);
    assert.ok(new Set(draw(quantiles(12, 28), undefined, 10, 30).pips.map((p) => p.y)).size >= 10);
});

test("scale spans the figure and the wish, 1.5 to 4 times as wide, never below zero", () => {
    for (const [low, high, wish] of [
        [19.4, 22.6],
        [170, 210, [170, 195]],
        [0.95, 1.13, [1, null]],
        [0, 3],
        [20, 20],
        [0, 0],
    ]) {
        const s = scaleAbout(low, high, wish);
        const wide =
            Math.max(high, ...(wish ?? []).filter((x) => x !== null)) -
            Math.min(low, ...(wish ?? []).filter((x) => x !== null));
        assert.ok(s.min <= low && s.max >= high && s.min >= 0);
        if (wide > 0.2 * high)
            assert.ok(s.max - s.min >= 1.3 * wide && s.max - s.min <= 4 * wide, `${s.max - s.min} for ${wide}`);
        assert.ok(s.ticks.length >= 4 && s.ticks.length <= 12);
    }
    assert.equal(roundStep(0.3), 0.5);
    assert.equal(roundStep(20), 20);
});

test("figures are told to the place of their half width, ends outward", () => {
    assert.deepEqual(rounded({ value: 22.71, low: 20.14, high: 24.05, status: "ok" }), {
        value: "23",
        low: "20",
        high: "25",
        exact: false,
        place: 0,
    });
    assert.deepEqual(rounded({ value: 22.71, low: 21.14, high: 24.05, status: "ok" }).value, "22.7");
    assert.equal(placeOf(0.6), -1);
    assert.equal(placeOf(150), 1);
    assert.equal(rounded({ value: 40, low: 40, high: 40, status: "ok" }).exact, true);
});

test("as drawn on a phone: pips of one heap never overlap, and none lies on the line of the wish", () => {
    const sizes = [1, 0.85, 0.7, 0.55];
    const small = { width: 8, height: 6.4, gap: 1.2 };
    for (const room of [41, 55, 90])
        for (let k = 0; k < 120; k++) {
            const [low, high] = [18 + (k % 5), 20.5 + (k % 7) * 0.9];
            const wish = [undefined, [25, 27], [low + 0.5, low + 2], [null, low + 1], [high - 0.4, null]][k % 5];
            const scale = scaleAbout(low, high, wish);
            const place = (v) => 12 + (92 * (v - scale.min)) / (scale.max - scale.min);
            const input = { values: quantiles(low, high), wish, place, pip: small, ends: [0, 116], clear: 1.6 };
            const { pips, pip } = fitted(input, room, sizes);
            assert.equal(pips.length, 20);
            const edges = (wish ?? []).filter((e) => e !== null).map(place);
            for (const p of pips) {
                assert.ok(p.x + pip.width <= room + 1e-9, `a row of ${p.x} in ${room}, case ${k}`);
                for (const e of edges) assert.ok(Math.abs(p.y - e) >= pip.height / 2 + 1.5, `on the line, case ${k}`);
                for (const q of pips)
                    if (p !== q && Math.abs(p.x - q.x) < pip.width)
                        assert.ok(Math.abs(p.y - q.y) >= pip.height - 1e-9, `two pips overlap, case ${k}, room ${room}`);
            }
        }
});
