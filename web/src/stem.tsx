// A stem with twenty pips: an upright scale, what is likely, and what is wished.

import type { Figure } from "./figure.js";
import { rounded, toPlace } from "./figure.js";
import { fitted, isInside } from "./heap.js";
import type { Scale } from "./scale.js";
import { scaleAbout } from "./scale.js";
import { letterSize, useWidth } from "./width.js";

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
    moving?: boolean; // under a finger: pips follow at once
    counted?: boolean; // the makings in the wish are told; not before amounts were sought
}

const FULL = { width: 11, height: 9, gap: 2 };
const SMALL = { width: 8, height: 6.4, gap: 1.2 };
const SIZES = [1, 0.85, 0.7, 0.55]; // of a pip, the largest that has room
const CLEAR = 1.6; // px between a pip and the line of the wish
const STEM = 47; // px from the left edge
const PAD = 12;
const APART = 17; // px between two bold numerals

/** A pointed seed, its point to the stem, which is at 0. */
function seed(w: number, tall: number): string {
    const h = tall / 2 - 0.8;
    return `M0 0C${w * 0.3} ${-h * 1.25} ${w} ${-h * 1.3} ${w} 0C${w} ${h * 1.3} ${w * 0.3} ${h * 1.25} 0 0Z`;
}

export function spoken(p: StemProps): string {
    const r = rounded(p.figure);
    const likely = r.exact ? "" : ` Likely between ${r.low} and ${r.high}.`;
    if (!p.wish) return `${p.name} ${r.value} ${p.spokenUnit}.${likely}`;
    const n = p.pips.filter((v) => isInside(v, p.wish)).length;
    const [a, b] = p.wish;
    const wished = a === null ? `at most ${b}` : b === null ? `at least ${a}` : `${a} to ${b}`;
    const count = p.counted === false ? "" : `: ${n} of 20 makings`;
    return `${p.name} ${r.value} ${p.spokenUnit}.${likely} You wish ${wished}${count}.`;
}

function wishPath(
    [a, b]: readonly [number | null, number | null],
    place: (v: number) => number,
    right: number,
): string {
    const gap = a === null || b === null ? Infinity : Math.abs(place(a) - place(b));
    const tick = Math.min(9, gap / 3);
    const path: string[] = [];
    if (b !== null) path.push(`M${STEM} ${place(b)}H${right}v${tick}`);
    if (a !== null) path.push(`M${STEM} ${place(a)}H${right}v${-tick}`);
    return path.join("");
}

// Two bold numerals never on top of one another.
function lipPlaces(lips: number[], place: (v: number) => number, height: number): number[] {
    const at = lips.map(place);
    if (at.length === 2) {
        const lack = APART - (at[0]! - at[1]!);
        if (lack > 0) return [at[0]! + lack / 2, at[1]! - lack / 2].map((y) => Math.min(height - 6, Math.max(6, y)));
    }
    return at.map((y) => Math.min(height - 6, Math.max(6, y)));
}

function Numerals({
    p,
    scale,
    down,
    taken,
}: {
    p: StemProps;
    scale: Scale;
    down: (v: number) => number;
    taken: number[];
}) {
    const places = Math.min(0, Math.max(-3, Math.floor(Math.log10(scale.step) + 1e-9)));
    const isFree = (v: number) => taken.every((y) => Math.abs(y - down(v)) >= 15);
    return (
        <>
            {scale.half.map((v) => (
                <line class="tick" x1={STEM - 6} x2={STEM} y1={down(v)} y2={down(v)} />
            ))}
            {scale.ticks.map((v) => (
                <line class="tick" x1={STEM - 11} x2={STEM} y1={down(v)} y2={down(v)} />
            ))}
            {p.numerals === false
                ? null
                : scale.ticks.filter(isFree).map((v) => (
                      <text class="numeral" x={STEM - 15} y={down(v) + 4.5}>
                          {toPlace(v, places)}
                      </text>
                  ))}
        </>
    );
}

export function Stem(p: StemProps) {
    const height = p.height ?? 240;
    const [holder, width] = useWidth<HTMLDivElement>(150);
    const zoom = letterSize();
    const r = rounded(p.figure);
    const scale = p.scale ?? scaleAbout(p.figure.low, p.figure.high, p.wish);
    const up = (v: number) => PAD + ((height - 2 * PAD) * (v - scale.min)) / (scale.max - scale.min);
    const down = (v: number) => height - Math.min(height, Math.max(0, up(v)));
    const wide = Math.min(width / zoom, 230);
    const room = wide - STEM - 14;
    const input = { values: p.pips, wish: p.wish, place: up, pip: p.numerals === false ? SMALL : FULL };
    const { pips, pip } = fitted({ ...input, ends: [0, height], clear: CLEAR }, room, SIZES);
    const inRow = Math.max(1, ...pips.map((q) => 1 + q.x / (pip.width + pip.gap)));
    const pitch = Math.min(pip.width + pip.gap, (room + pip.gap) / inRow);
    const shrink = pitch / (pip.width + pip.gap);
    const right = Math.min(wide - 3, Math.max(STEM + 70, STEM + 16 + inRow * pitch));
    const lips = r.exact ? [p.figure.value] : [Number(r.low), Number(r.high)]; // as told, so that mark and numeral agree
    const lipAt = lipPlaces(lips, down, height);
    const shape = seed(Math.max(4, pip.width * shrink), pip.height);
    const kind = pip.height < 6 ? "pip fine" : "pip";
    return (
        <div class="stem-holder" ref={holder}>
            <svg
                class="stem"
                role="img"
                aria-label={spoken(p)}
                viewBox={`0 0 ${wide} ${height}`}
                width={wide * zoom}
                height={height * zoom}
            >
                <Numerals p={p} scale={scale} down={down} taken={lipAt} />
                <line class="stem-line" x1={STEM} x2={STEM} y1={down(scale.max)} y2={down(scale.min)} />
                {p.wish ? <path class="wish" d={wishPath(p.wish, down, right)} /> : null}
                {lips.map((v, i) => (
                    <>
                        <line class="lip" x1={STEM - 12} x2={STEM + 5} y1={down(v)} y2={down(v)} />
                        <text class="lip-numeral" x={STEM - 15} y={lipAt[i]! + 5}>
                            {r.exact ? r.value : i === 0 ? r.low : r.high}
                        </text>
                    </>
                ))}
                {r.exact ? (
                    <text class="exactly" x={STEM + 8} y={Math.min(height - 4, down(p.figure.value) + 22)}>
                        exactly
                    </text>
                ) : null}
                <g class={p.moving ? "pips" : "pips sliding"}>
                    {(r.exact ? pips.slice(0, 1) : pips).map((q, i) => (
                        <path
                            key={i}
                            class={q.inside ? kind : `${kind} open`}
                            d={shape}
                            transform={`translate(${STEM + 9 + q.x * shrink} ${height - q.y})`}
                        />
                    ))}
                </g>
            </svg>
        </div>
    );
}

/** The count under a stem, in words: the count of full pips. */
export function Count({
    pips,
    wish,
}: {
    pips: readonly number[];
    wish?: readonly [number | null, number | null] | undefined;
}) {
    if (!wish) return null;
    return (
        <p class="count">
            <b>{pips.filter((v) => isInside(v, wish)).length} of 20</b> <span>in your wish</span>
        </p>
    );
}
