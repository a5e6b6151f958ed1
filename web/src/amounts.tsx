// Each amount on a line: its name, a blank, a slider, and whether it is kept as it is.

import { useState } from "preact/hooks";
import { readAmount } from "./amount.js";
import type { Caution, Dial } from "./api.js";
import { cap, CautionBox, Problems } from "./parts.js";
import { Slider, tellAmount } from "./slider.js";

export function dialKey(d: Pick<Dial, "step" | "line" | "of">): string {
    return `${d.step}.${d.line}.${d.of}`;
}

const FARTHEST = 20; // times the written amount

/** What was typed, in the unit of the line, or why it cannot be had. */
export function typedValue(text: string, dial: Dial, written: number): { value?: number; why?: string } {
    const { value, why } = readAmount(text, dial.unit);
    if (value === undefined) return why ? { why } : {};
    if (dial.of === "strength") return value > 0 && value <= 96 ? { value } : { why: "a spirit has up to 96 % vol" };
    if (!(value > 0)) return { why: "a line cannot be made of nothing" };
    const most = FARTHEST * written;
    if (value <= most) return { value };
    const has = `${tellAmount(written, dial)} ${dial.unit}`;
    return { why: `that is more than ${FARTHEST} times what the recipe has (${has})` };
}

function unitOf(d: Dial): string {
    return d.unit === "piece" ? "" : ` ${d.unit}`;
}

interface BlankProps {
    dial: Dial;
    value: number;
    stay: boolean;
    name: string;
    wrong: string;
    onText: (text: string) => void;
}

function Blank({ dial, value, stay, name, wrong, onText }: BlankProps) {
    const [writing, setWriting] = useState<string | null>(null);
    const unit = dial.unit === "piece" ? "" : dial.unit;
    const done = () => {
        if (writing !== null && writing !== tellAmount(value, dial)) onText(writing);
        setWriting(null);
    };
    return (
        <span class="blank amount">
            <input
                inputMode="decimal"
                autocomplete="off"
                aria-label={`${name}${unit ? `, ${unit}` : ""}`}
                aria-invalid={wrong !== ""}
                readOnly={stay}
                value={writing ?? (wrong || tellAmount(value, dial))}
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
    stay: ReadonlySet<string>;
    written: (d: Dial) => number; // as the recipe has it
    side: (d: Dial) => string; // what stands under the name
    stops: (d: Dial) => number | undefined;
    cautions: (d: Dial) => Caution[]; // what this line brings
    stale: boolean; // they are of other amounts
    onMove: (key: string, value: number) => void;
    onDone: () => void;
    onStay: (key: string) => void;
}

interface Typed {
    text: string;
    why: string;
}

export function Amounts(p: AmountsProps) {
    const [wrong, setWrong] = useState<ReadonlyMap<string, Typed>>(new Map());
    const [reach, setReach] = useState<ReadonlyMap<string, number>>(new Map());
    const set = (key: string, typed: Typed | null) => {
        const next = new Map(wrong);
        if (typed) next.set(key, typed);
        else next.delete(key);
        setWrong(next);
    };
    return (
        <ul class="amounts" aria-label="Amounts">
            {p.dials.map((d) => {
                const key = dialKey(d);
                const value = p.values.get(key) ?? d.value;
                const stay = p.stay.has(key);
                const name = d.of === "strength" ? `${d.name}, strength` : d.name;
                const far = reach.get(key) ?? value;
                const dial = { ...d, low: Math.min(d.low, far, value), high: Math.max(d.high, far, value) };
                const typed = wrong.get(key);
                const move = (v: number) => {
                    set(key, null);
                    p.onMove(key, v);
                };
                return (
                    <li key={key} class="amount-line">
                        <div class="amount-name">
                            <b>{cap(name)}</b>
                            <span class="soft">{p.side(d)}</span>
                        </div>
                        <Blank
                            dial={d}
                            value={value}
                            stay={stay}
                            name={name}
                            wrong={typed?.text ?? ""}
                            onText={(text) => {
                                const got = typedValue(text, d, p.written(d));
                                if (got.value === undefined) {
                                    set(key, { text, why: got.why ?? "" });
                                    return;
                                }
                                setReach(new Map(reach).set(key, got.value));
                                move(got.value);
                                p.onDone();
                            }}
                        />
                        <Slider
                            dial={dial}
                            value={value}
                            stay={stay}
                            stoppedAt={p.stops(d)}
                            name={name}
                            onMove={move}
                            onDone={p.onDone}
                        />
                        <label class="check stay">
                            <input
                                type="checkbox"
                                checked={stay}
                                aria-label={`keep ${name} as it is`}
                                onChange={() => p.onStay(key)}
                            />{" "}
                            keep as it is
                        </label>
                        {typed ? (
                            <div class="amount-wrong">
                                <Problems
                                    problems={[
                                        {
                                            what: `"${typed.text}" cannot be taken`,
                                            why: typed.why,
                                            try: `write it like ${tellAmount(d.value, d)}${unitOf(d)}`,
                                        },
                                    ]}
                                />
                            </div>
                        ) : null}
                        {p.cautions(d).map((c) => (
                            <div class={p.stale ? "amount-caution stale" : "amount-caution"}>
                                <CautionBox caution={c} />
                            </div>
                        ))}
                    </li>
                );
            })}
        </ul>
    );
}
