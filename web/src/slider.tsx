// One amount on its way between two ends: a native range, drawn by us, with the ticks of the kitchen.

import { useEffect, useRef } from "preact/hooks";
import type { Dial } from "./api.js";
import { useWidth } from "./width.js";

const THUMB = 24;
const TALL = 48;
const LINE = 20;

const UNIT: Record<string, string> = { g: "grams", mL: "millilitres", "% vol": "per cent by volume", piece: "" };

export function tellAmount(value: number, dial: Pick<Dial, "tick">): string {
    const digits = Math.max(0, Math.min(3, -Math.floor(Math.log10(dial.tick || 1) + 1e-9)));
    return String(Number(value.toFixed(Math.max(digits, value < 10 ? 1 : 0))));
}

/** "640 grams of damsons" */
export function valueText(value: number, dial: Dial): string {
    const unit = UNIT[dial.unit] ?? dial.unit;
    const amount = tellAmount(value, dial);
    if (dial.of === "strength") return `${dial.name} at ${amount} ${unit}`;
    return unit ? `${amount} ${unit} of ${dial.name}` : `${amount} ${dial.name}`;
}

export function snapped(value: number, dial: Pick<Dial, "tick" | "low" | "high">): number {
    const near = Math.round(value / dial.tick) * dial.tick;
    return Number(Math.min(dial.high, Math.max(dial.low, near)).toFixed(6));
}

/** Where a key takes the value; null for other keys.  Page keys are five steps. */
export function byKey(key: string, value: number, dial: Pick<Dial, "tick" | "low" | "high">): number | null {
    const steps: Record<string, number> = {
        ArrowRight: 1,
        ArrowUp: 1,
        ArrowLeft: -1,
        ArrowDown: -1,
        PageUp: 5,
        PageDown: -5,
    };
    if (key === "Home") return dial.low;
    if (key === "End") return dial.high;
    const n = steps[key];
    if (n === undefined) return null;
    const at = value / dial.tick; // between two ticks the next one counts as a whole step
    return snapped((n > 0 ? Math.floor(at + 1e-6) + n : Math.ceil(at - 1e-6) + n) * dial.tick, dial);
}

/** Kitchen ticks, as many as can be told apart. */
export function ticksOf(dial: Pick<Dial, "tick" | "low" | "high">, width: number): number[] {
    const most = Math.max(2, Math.floor(width / 9));
    let step = dial.tick;
    for (const m of [1, 2, 5, 10, 20, 50, 100, 200, 500]) {
        step = dial.tick * m;
        if ((dial.high - dial.low) / step <= most) break;
    }
    const out: number[] = [];
    for (let v = Math.ceil(dial.low / step - 1e-9) * step; v <= dial.high + 1e-9 && out.length < 200; v += step)
        out.push(v);
    return out;
}

export interface SliderProps {
    dial: Dial;
    value: number;
    stay: boolean;
    stoppedAt?: number | undefined;
    name: string;
    words?: string | undefined; // what the value is told as, where it is no amount
    onMove: (value: number) => void;
    onDone: () => void;
}

export function Slider({ dial, value, stay, stoppedAt, name, words, onMove, onDone }: SliderProps) {
    const [holder, width] = useWidth<HTMLDivElement>(220);
    const input = useRef<HTMLInputElement>(null);
    const room = Math.max(1, width - THUMB);
    const at = (v: number) => THUMB / 2 + (room * (v - dial.low)) / Math.max(1e-9, dial.high - dial.low);
    const here = Math.min(width - THUMB / 2, Math.max(THUMB / 2, at(value)));
    useEffect(() => {
        if (input.current) input.current.value = String(value);
    }, [value, dial.low, dial.high]);
    return (
        <div class={stay ? "slider stays" : "slider"} ref={holder}>
            <svg width={width} height={TALL} viewBox={`0 0 ${width} ${TALL}`} aria-hidden="true">
                <path class="track" d={`M${THUMB / 2} ${LINE}H${width - THUMB / 2}`} />
                <path class="track-done" d={`M${THUMB / 2} ${LINE}H${here}`} />
                <path
                    class="tick"
                    d={ticksOf(dial, width)
                        .map((v, i) => `M${at(v)} ${LINE + 9}v${i % 5 === 0 ? 9 : 5}`)
                        .join("")}
                />
                {stoppedAt !== undefined ? <path class="wall" d={`M${at(stoppedAt) + 2} ${LINE - 14}v28`} /> : null}
                {stay ? (
                    <path
                        class="thumb-stays"
                        d="M-9 -11h18v22h-18zM-4 -3h8M-4 3h8"
                        transform={`translate(${here} ${LINE})`}
                    />
                ) : (
                    <g class="thumb" transform={`translate(${here} ${LINE})`}>
                        <path class="thumb-body" d="M-11 -15h22v20l-11 11l-11 -11z" />
                        <path class="thumb-lines" d="M-3.5 -8v11M3.5 -8v11" />
                    </g>
                )}
            </svg>
            <input
                ref={input}
                type="range"
                min={dial.low}
                max={dial.high}
                step="any"
                disabled={stay}
                aria-label={name}
                aria-valuetext={words ?? valueText(value, dial)}
                onInput={(e) => onMove(snapped(Number(e.currentTarget.value), dial))}
                onChange={onDone}
                onKeyDown={(e) => {
                    const next = byKey(e.key, value, dial);
                    if (next === null) return;
                    e.preventDefault();
                    onMove(next);
                }}
                onKeyUp={onDone}
            />
        </div>
    );
}
