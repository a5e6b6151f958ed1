// A stem with twenty pips: an upright scale, what is likely, and what is wished.

import type { Figure } from "./figure.js";
import { rounded, toPlace } from "./figure.js";
import { heap, isInside } from "./heap.js";
import type { Scale } from "./scale.js";
import { scaleAbout } from "./scale.js";

export interface StemProps {
    name: string; // "Strength"
    unit: string; // "% vol"
    spokenUnit: string; // "per cent by volume"
    figure: Figure;
    pips: readonly number[];
    wish?: readonly [number | null, number | null] | undefined;
    scale?: Scale | undefined; // kept while a slider moves
    height?: number;
    numerals?: boolean; // the scale's own; the lips keep theirs
    /** What stands on the scale, when it is not the figure's own number: litres for millilitres. */
    show?: (x: number) => number;
}

const PIP = { width: 11, height: 9, gap: 2 };
const STEM = 58; // px from the left edge
const WIDE = 190;
const PAD = 10;

/** A pointed seed, its point to the stem. */
function seed(x: number, y: number): string {
    const w = PIP.width;
    const h = PIP.height / 2 - 0.8;
    return `M${x} ${y}C${x + w * 0.3} ${y - h * 1.25} ${x + w} ${y - h * 1.3} ${x + w} ${y}C${x + w} ${y + h * 1.3} ${x + w * 0.3} ${y + h * 1.25} ${x} ${y}Z`;
}

export function spoken(p: StemProps): string {
    const r = rounded(p.figure);
    const likely = r.exact ? "" : ` Likely between ${r.low} and ${r.high}.`;
    if (!p.wish) return `${p.name} ${r.value} ${p.spokenUnit}.${likely}`;
    const n = p.pips.filter((v) => isInside(v, p.wish)).length;
    const [a, b] = p.wish;
    const wished = a === null ? `at most ${b}` : b === null ? `at least ${a}` : `${a} to ${b}`;
    return `${p.name} ${r.value} ${p.spokenUnit}.${likely} You wish ${wished}: ${n} of 20 makings.`;
}

function Wished({ wish, place, right }: { wish: readonly [number | null, number | null]; place: (v: number) => number; right: number }) {
    const tick = 9;
    const [a, b] = wish;
    const path: string[] = [];
    if (b !== null) path.push(`M${STEM} ${place(b)}H${right}${a !== null ? `v${tick}` : ""}`);
    if (a !== null) path.push(`M${STEM} ${place(a)}H${right}${b !== null ? `v${-tick}` : ""}`);
    return <path class="wish" d={path.join("")} />;
}

export function Stem(p: StemProps) {
    const height = p.height ?? 240;
    const r = rounded(p.figure);
    const scale = p.scale ?? scaleAbout(p.figure.low, p.figure.high, p.wish);
    const up = (v: number) => PAD + ((height - 2 * PAD) * (v - scale.min)) / (scale.max - scale.min);
    const down = (v: number) => height - Math.min(height, Math.max(0, up(v)));
    const pips = heap({ values: p.pips, wish: p.wish, place: up, pip: PIP, ends: [0, height] });
    const widest = Math.max(0, ...pips.map((q) => q.x + PIP.width));
    const right = Math.max(WIDE - 20, STEM + 10 + widest);
    const near = (v: number, ends: number[]) => ends.some((e) => Math.abs(down(e) - down(v)) < 15);
    const lips = r.exact ? [p.figure.value] : [p.figure.low, p.figure.high];
    const tell = (v: number) => toPlace(v, Math.min(0, Math.max(-3, Math.floor(Math.log10(scale.step) + 1e-9))));
    return (
        <svg class="stem" role="img" aria-label={spoken(p)} viewBox={`0 0 ${Math.max(WIDE, right + 6)} ${height}`} width={Math.max(WIDE, right + 6)} height={height}>
            {scale.half.map((v) => (
                <line class="tick" x1={STEM - 6} x2={STEM} y1={down(v)} y2={down(v)} />
            ))}
            {scale.ticks.map((v) => (
                <>
                    <line class="tick" x1={STEM - 11} x2={STEM} y1={down(v)} y2={down(v)} />
                    {p.numerals !== false && !near(v, lips) ? (
                        <text class="numeral" x={STEM - 15} y={down(v) + 4.5}>
                            {tell(v)}
                        </text>
                    ) : null}
                </>
            ))}
            <line class="stem-line" x1={STEM} x2={STEM} y1={down(scale.max)} y2={down(scale.min)} />
            {p.wish ? <Wished wish={p.wish} place={down} right={right} /> : null}
            {lips.map((v, i) => (
                <>
                    <line class="lip" x1={STEM - 12} x2={STEM + 5} y1={down(v)} y2={down(v)} />
                    <text class="lip-numeral" x={STEM - 15} y={down(v) + 5}>
                        {r.exact ? r.value : i === 0 ? r.low : r.high}
                    </text>
                </>
            ))}
            {r.exact ? (
                <text class="exactly" x={STEM + 26} y={down(p.figure.value) + 5}>
                    exactly
                </text>
            ) : null}
            <g class="pips">
                {(r.exact ? pips.slice(0, 1) : pips).map((q) => (
                    <path class={q.inside ? "pip" : "pip open"} d={seed(STEM + 9 + q.x, height - q.y)} />
                ))}
            </g>
        </svg>
    );
}

/** The count under a stem, in words: the count of full pips. */
export function Count({ pips, wish }: { pips: readonly number[]; wish?: readonly [number | null, number | null] | undefined }) {
    if (!wish) return null;
    return (
        <p class="count">
            <b>{pips.filter((v) => isInside(v, wish)).length} of 20</b> <span>in your wish</span>
        </p>
    );
}
