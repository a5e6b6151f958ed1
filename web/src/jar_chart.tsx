// Shares over days: the thing followed with its likely band, as written and changed; the others as hair lines.

import * as Plot from "@observablehq/plot";
import { useLayoutEffect, useRef } from "preact/hooks";
import type { Curve, Run } from "./steep.js";
import { at, daySentence, lastDay, rowsAt, sameCurve, shareFigure } from "./steep.js";
import { useWidth } from "./width.js";

/** Where the axis lies in the drawing; the slider under it keeps to the same. */
export const EDGE = { left: 48, right: 16 };
const [TOP, FOOT] = [36, 44];
const tall = (width: number) => (width < 500 ? 300 : 360);
const HATCH = 8; // px between two hairs

interface Point {
    day: number;
    share: number;
    low: number;
    high: number;
    of: string;
}

function pointsOf(run: Run, curve: Curve): Point[] {
    return run.time_days.map((day, i) => {
        const f = shareFigure(curve.share[i]!);
        return { day, share: f.value, low: f.low, high: f.high, of: curve.words.name };
    });
}

function pointAt(run: Run, curve: Curve, day: number): Point {
    const f = shareFigure(at(run.time_days, curve.share, day));
    return { day, share: f.value, low: f.low, high: f.high, of: curve.words.name };
}

/** The likely band: its two ends and hairs between them, upright or leaning by so many days. */
function band(run: Run, curve: Curve, step: number, lean: number, kind: string): Plot.Markish[] {
    const end = lastDay(run);
    const hairs: { x1: number; x2: number; y1: number; y2: number }[] = [];
    for (let x = step / 2; x + lean <= end; x += step)
        hairs.push({ x1: x, x2: x + lean, y1: pointAt(run, curve, x).low, y2: pointAt(run, curve, x + lean).high });
    const points = pointsOf(run, curve);
    return [
        Plot.link(hairs, { x1: "x1", x2: "x2", y1: "y1", y2: "y2", className: `jar-hair ${kind}` }),
        Plot.line(points, { x: "day", y: "low", className: `jar-end ${kind}` }),
        Plot.line(points, { x: "day", y: "high", className: `jar-end ${kind}` }),
    ];
}

/** How far one curve lies above another, over all days. */
export function liesAbove(a: Run, of: Curve, b: Run, other: Curve): boolean {
    const end = Math.min(lastDay(a), lastDay(b));
    const days = Array.from({ length: 40 }, (_, i) => (end * (i + 1)) / 40);
    return days.reduce((s, d) => s + pointAt(a, of, d).share - pointAt(b, other, d).share, 0) >= 0;
}

function endLabel(run: Run, curve: Curve, text: string, isAbove: boolean): Plot.Markish {
    const end = pointAt(run, curve, lastDay(run));
    return Plot.text([end], {
        x: "day",
        y: "share",
        text: [text],
        textAnchor: "end",
        dy: isAbove ? -12 : 16,
        className: "plot-words jar-label",
    });
}

export interface ChartProps {
    run: Run;
    other: Run | undefined;
    curve: Curve;
    day: number;
    until: number;
}

function marksOf(p: ChartProps, perPx: number): Plot.Markish[] {
    const { run, other, curve, day } = p;
    const changed = sameCurve(other, curve);
    const rest = run.curves.filter((c) => c !== curve);
    const lines = (of: Curve[], className: string) =>
        Plot.line(
            of.flatMap((c) => pointsOf(run, c)),
            { x: "day", y: "share", z: "of", className },
        );
    const plan = run.planned_days <= p.until ? [run.planned_days] : []; // told less far than that
    const marks: Plot.Markish[] = [
        Plot.ruleX(plan, { y1: 0, y2: 100, className: "jar-plan" }),
        lines(rest.filter((c) => !c.late), "jar-other"),
        lines(rest.filter((c) => c.late), "jar-late"),
        ...band(run, curve, HATCH * perPx, 0, "first"),
    ];
    if (other && changed) marks.push(...band(other, changed, HATCH * perPx, HATCH * perPx, "second"));
    marks.push(Plot.line(pointsOf(run, curve), { x: "day", y: "share", className: "jar-first" }));
    if (other && changed) {
        const above = liesAbove(run, curve, other, changed);
        marks.push(
            Plot.line(pointsOf(other, changed), { x: "day", y: "share", className: "jar-second" }),
            endLabel(run, curve, "as written", above),
            endLabel(other, changed, "changed", !above),
        );
    } else marks.push(endLabel(run, curve, curve.words.name, pointAt(run, curve, lastDay(run)).share < 25));
    marks.push(
        Plot.text(
            plan.map((d) => [d, 0]),
            { text: ["as planned"], textAnchor: "start", dx: 5, dy: -9, className: "jar-plan-words" },
        ),
        Plot.ruleX([day], { y1: 0, y2: 100, className: "jar-now" }),
        Plot.dot([pointAt(run, curve, day)], { x: "day", y: "share", r: 6, symbol: "diamond", className: "jar-at-first" }),
    );
    if (other && changed)
        marks.push(
            Plot.dot([pointAt(other, changed, day)], { x: "day", y: "share", r: 5, className: "jar-at-second" }),
        );
    return marks;
}

export function chartSpoken({ run, other, curve, day }: ChartProps): string {
    const changed = sameCurve(other, curve);
    const one = (r: Run, c: Curve) => daySentence(day, rowsAt(r, c, day).slice(0, 1));
    return (
        `${curve.words.name}, share over days: ${curve.words.text}. On ${one(run, curve)}.` +
        (other && changed ? ` Changed: ${changed.words.text}. On ${one(other, changed)}.` : "")
    );
}

function draw(p: ChartProps, width: number): Element {
    const chart = Plot.plot({
        className: "chart",
        width,
        height: tall(width),
        marginLeft: EDGE.left,
        marginRight: EDGE.right,
        marginTop: TOP,
        marginBottom: FOOT,
        x: { domain: [0, p.until], label: p.run.filled_days > 0 ? "days since this jar was filled" : "days in the jar", ticks: Math.max(3, Math.min(8, Math.floor(width / 80))) },
        y: { domain: [0, 100], label: "% of what will come", ticks: 5 },
        marks: [
            Plot.frame({ anchor: "left", className: "plot-axis" }),
            Plot.frame({ anchor: "bottom", className: "plot-axis" }),
            ...marksOf(p, p.until / Math.max(1, width - EDGE.left - EDGE.right)),
        ],
    });
    chart.querySelectorAll("style").forEach((s) => s.remove()); // its rules are served in stem.css
    chart.querySelectorAll("[aria-label]").forEach((g) => g.removeAttribute("aria-label"));
    chart.setAttribute("role", "img");
    chart.setAttribute("aria-label", chartSpoken(p));
    return chart;
}

export function JarChart(p: ChartProps) {
    const [holder, width] = useWidth<HTMLDivElement>(350);
    const place = useRef<HTMLDivElement>(null);
    useLayoutEffect(() => {
        place.current?.replaceChildren(draw(p, width));
    }, [width, p.run, p.other, p.curve, p.day, p.until]);
    return (
        <div class="jar-chart" ref={holder}>
            <div ref={place} />
        </div>
    );
}
