// Strength against sugar: the one picture with two figures at once, by the chart library.

import * as Plot from "@observablehq/plot";
import { useLayoutEffect, useRef } from "preact/hooks";
import type { Range } from "./api.js";
import { isInside } from "./heap.js";
import type { Figure } from "./figure.js";
import { rounded } from "./figure.js";
import { roundStep } from "./scale.js";
import { useWidth } from "./width.js";

export type Point = [number, number];

/** A line that holds 19 of 20 of points that scatter like these (two normal figures): an ellipse. */
export function ring(points: readonly Point[], n = 60): Point[] {
    const mean = (k: 0 | 1) => points.reduce((s, p) => s + p[k], 0) / points.length;
    const [mx, my] = [mean(0), mean(1)];
    const cov = (i: 0 | 1, j: 0 | 1, a: number, b: number) =>
        points.reduce((s, p) => s + (p[i] - a) * (p[j] - b), 0) / Math.max(1, points.length - 1);
    const [xx, yy, xy] = [cov(0, 0, mx, mx), cov(1, 1, my, my), cov(0, 1, mx, my)];
    const l11 = Math.sqrt(xx);
    const l21 = l11 > 0 ? xy / l11 : 0;
    const l22 = Math.sqrt(Math.max(0, yy - l21 * l21));
    const reach = Math.sqrt(5.991); // chi square with two degrees of freedom, 95 %
    return Array.from({ length: n + 1 }, (_, i) => {
        const [c, s] = [Math.cos((2 * Math.PI * i) / n) * reach, Math.sin((2 * Math.PI * i) / n) * reach];
        return [mx + l11 * c, my + l21 * c + l22 * s];
    });
}

/** Four corner marks of a wish, in the figures' own units. */
export function corners(x: Range, y: Range, share = 0.2): Point[][] {
    const [a, b] = x;
    const [c, d] = y;
    if (a === null || b === null || c === null || d === null) return [];
    const [w, h] = [(b - a) * share, (d - c) * share];
    return (
        [
            [a, c, 1, 1],
            [b, c, -1, 1],
            [a, d, 1, -1],
            [b, d, -1, -1],
        ] as const
    ).map(([px, py, sx, sy]) => [
        [px + sx * w, py],
        [px, py],
        [px, py + sy * h],
    ]);
}

const SEED = {
    draw(to: CanvasPath, size: number) {
        const r = Math.sqrt(size) / 1.6;
        to.moveTo(-r, 0);
        to.bezierCurveTo(-r * 0.4, -r * 0.95, r, -r * 1.05, r, 0);
        to.bezierCurveTo(r, r * 1.05, -r * 0.4, r * 0.95, -r, 0);
        to.closePath();
    },
};

function domain(values: (number | null)[]): [number, number] {
    const v = values.filter((x): x is number => x !== null);
    const [a, b] = [Math.min(...v), Math.max(...v)];
    const pad = Math.max((b - a) * 0.35, Math.abs(b) * 0.02);
    const step = roundStep((b - a + 2 * pad) / 6);
    return [Math.max(0, Math.floor((a - pad) / step) * step), Math.ceil((b + pad) / step) * step];
}

export interface TwoProps {
    strength: Figure;
    sugar: Figure;
    joint?: readonly Point[] | undefined;
    wish?: { strength?: Range | undefined; sugar?: Range | undefined };
}

export function twoSpoken({ strength, sugar }: TwoProps): string {
    const [a, b] = [rounded(strength), rounded(sugar)];
    return `Your bottle now: strength ${a.value}, likely between ${a.low} and ${a.high}; sugar ${b.value}, likely between ${b.low} and ${b.high}.`;
}

function marksOf(p: TwoProps): Plot.Markish[] {
    const { strength: s, sugar: g, joint, wish } = p;
    const marks: Plot.Markish[] = [];
    if (wish?.strength && wish.sugar)
        marks.push(
            ...corners(wish.strength, wish.sugar).map((c) => Plot.line(c as Point[], { className: "wish-corner" })),
        );
    if (joint && joint.length > 2) {
        const inside = (q: Point) => isInside(q[0], wish?.strength) && isInside(q[1], wish?.sugar);
        const base = { symbol: SEED, r: 6 };
        marks.push(Plot.line(ring(joint), { className: "holds" }));
        marks.push(Plot.dot(joint.filter(inside), { ...base, className: "plot-pip" }));
        marks.push(
            Plot.dot(
                joint.filter((q) => !inside(q)),
                { ...base, className: "plot-pip-open" },
            ),
        );
    } else {
        marks.push(Plot.rect([0], { x1: [s.low], x2: [s.high], y1: [g.low], y2: [g.high], className: "holds" }));
        marks.push(Plot.dot([[s.value, g.value]], { symbol: "diamond", r: 7, className: "read" }));
    }
    const top = joint && joint.length > 2 ? Math.max(...ring(joint).map((q) => q[1])) : g.high;
    marks.push(Plot.text([[s.value, top]], { text: ["your bottle now"], dy: -14, className: "plot-words" }));
    return marks;
}

function draw(p: TwoProps, width: number): Element {
    const both = p.joint && p.joint.length > 2 ? ring(p.joint) : [];
    const chart = Plot.plot({
        className: "chart",
        width,
        height: Math.round(Math.min(520, width * 0.92)),
        marginLeft: 48,
        marginBottom: 46,
        marginTop: 34,
        marginRight: 16,
        x: {
            domain: domain([p.strength.low, p.strength.high, ...both.map((q) => q[0]), ...(p.wish?.strength ?? [])]),
            label: "stronger, % vol",
            ticks: 5,
        },
        y: {
            domain: domain([p.sugar.low, p.sugar.high, ...both.map((q) => q[1]), ...(p.wish?.sugar ?? [])]),
            label: "sweeter, g/L",
            ticks: 6,
        },
        marks: [
            Plot.frame({ anchor: "left", className: "plot-axis" }),
            Plot.frame({ anchor: "bottom", className: "plot-axis" }),
            ...marksOf(p),
        ],
    });
    chart.querySelectorAll("style").forEach((s) => s.remove()); // its rules are served in stem.css: the page takes no style element
    chart.querySelectorAll("[aria-label]").forEach((g) => g.removeAttribute("aria-label"));
    chart.setAttribute("role", "img");
    chart.setAttribute("aria-label", twoSpoken(p));
    return chart;
}

export function TwoFigures(p: TwoProps) {
    const [holder, width] = useWidth<HTMLDivElement>(350);
    const place = useRef<HTMLDivElement>(null);
    useLayoutEffect(() => {
        place.current?.replaceChildren(draw(p, Math.min(width, 620)));
    }, [width, p.strength, p.sugar, p.joint, JSON.stringify(p.wish)]);
    return (
        <div class="two" ref={holder}>
            <div ref={place} />
            <p class="side">
                {p.joint && p.joint.length > 2
                    ? "Each pip is a bottle your readings allow: full inside your wish, open outside it. The line holds 19 of 20."
                    : "The line is what is likely, each way 19 of 20; the mark is what your readings say."}
            </p>
        </div>
    );
}
