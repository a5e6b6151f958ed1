// Each amount on a line: its name, a blank, a slider, and a lock.

import { useState } from "preact/hooks";
import type { Dial } from "./api.js";
import { readNumber } from "./blank.js";
import { cap } from "./parts.js";
import { Slider, tellAmount } from "./slider.js";

export function dialKey(d: Pick<Dial, "step" | "line" | "of">): string {
    return `${d.step}.${d.line}.${d.of}`;
}

function Blank({
    dial,
    value,
    locked,
    name,
    onSet,
}: {
    dial: Dial;
    value: number;
    locked: boolean;
    name: string;
    onSet: (v: number) => void;
}) {
    const [writing, setWriting] = useState<string | null>(null);
    const unit = dial.unit === "piece" ? "" : dial.unit;
    const done = () => {
        const n = writing === null ? null : readNumber(writing);
        if (n !== null) onSet(Math.min(dial.high, Math.max(dial.low, n)));
        setWriting(null);
    };
    return (
        <span class="blank amount">
            <input
                inputMode="decimal"
                autocomplete="off"
                aria-label={`${name}${unit ? `, ${unit}` : ""}`}
                readOnly={locked}
                value={writing ?? tellAmount(value, dial)}
                onInput={(e) => setWriting(e.currentTarget.value)}
                onBlur={done}
                onKeyDown={(e) => {
                    if (e.key === "Enter") done();
                    if (e.key === "Escape") setWriting(null);
                }}
            />
            {unit ? <span class="unit">{unit}</span> : null}
        </span>
    );
}

export interface AmountsProps {
    dials: Dial[];
    values: ReadonlyMap<string, number>;
    locked: ReadonlySet<string>;
    side: (d: Dial) => string; // what stands under the name
    stops: (d: Dial) => number | undefined;
    onMove: (key: string, value: number) => void;
    onDone: () => void;
    onLock: (key: string) => void;
}

export function Amounts(p: AmountsProps) {
    return (
        <ul class="amounts" aria-label="Amounts">
            {p.dials.map((d) => {
                const key = dialKey(d);
                const value = p.values.get(key) ?? d.value;
                const locked = p.locked.has(key);
                const name = d.of === "strength" ? `${d.name}, strength` : d.name;
                return (
                    <li key={key} class="amount-line">
                        <div class="amount-name">
                            <b>{cap(name)}</b>
                            <span class="soft">{p.side(d)}</span>
                        </div>
                        <Blank
                            dial={d}
                            value={value}
                            locked={locked}
                            name={name}
                            onSet={(v) => {
                                p.onMove(key, v);
                                p.onDone();
                            }}
                        />
                        <Slider
                            dial={d}
                            value={value}
                            locked={locked}
                            stoppedAt={p.stops(d)}
                            name={name}
                            onMove={(v) => p.onMove(key, v)}
                            onDone={p.onDone}
                        />
                        <button
                            type="button"
                            class="text"
                            aria-pressed={locked}
                            aria-label={`${locked ? "unlock" : "lock"}: ${name}`}
                            onClick={() => p.onLock(key)}
                        >
                            {locked ? "unlock" : "lock"}
                        </button>
                    </li>
                );
            })}
        </ul>
    );
}
