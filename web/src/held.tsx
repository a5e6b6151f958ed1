// What a recipe was held against, the choice of it, and what every report ends with.

import { useContext, useEffect, useId, useState } from "preact/hooks";
import type { Caution, HeldAgainst } from "./api.js";
import { get } from "./api.js";
import { CautionBox, Problems } from "./parts.js";
import { AskedFor, NOBODY, whoWords, wrongWith } from "./who.js";

interface Home {
    place: string;
    name: string;
}

let known: Home[] | null = null; // built into the program: asked for once

function usePlaces(on: boolean): Home[] {
    const [places, setPlaces] = useState<Home[]>(known ?? []);
    useEffect(() => {
        if (!on || known) return;
        get<{ places: Home[] }>("/api/places")
            .then((a) => setPlaces((known = a.places)))
            .catch(() => undefined); // what was chosen stays chosen
    }, [on]);
    return places;
}

interface AmountProps {
    label: string;
    side: string;
    unit: string;
    name: "serving_ml" | "body_weight_kg";
    value: string;
    onValue: (text: string) => void;
}

function Amount({ label, side, unit, name, value, onValue }: AmountProps) {
    const [typed, setTyped] = useState<string | null>(null);
    const id = useId();
    const text = typed ?? value;
    const wrong = wrongWith(name, text);
    const done = () => {
        if (typed === null || wrong) return;
        setTyped(null);
        if (typed.trim() !== value) onValue(typed.trim());
    };
    return (
        <div class="who-line">
            <label for={id}>
                <b>{label}</b> <span class="soft">{side}</span>
            </label>
            <span class="blank">
                <input
                    id={id}
                    inputMode="decimal"
                    autocomplete="off"
                    size={5}
                    value={text}
                    aria-invalid={wrong !== ""}
                    onInput={(e) => setTyped(e.currentTarget.value)}
                    onBlur={done}
                    onKeyDown={(e) => {
                        if (e.key !== "Enter") return;
                        e.preventDefault();
                        done();
                    }}
                />
                <span class="unit">{unit}</span>
            </span>
            {wrong ? <Problems problems={[{ what: `“${text}” cannot be taken`, why: wrong }]} /> : null}
        </div>
    );
}

function Choice({ held }: { held: HeldAgainst }) {
    const { who, onWho } = useContext(AskedFor);
    const [open, setOpen] = useState(false);
    const places = usePlaces(open);
    const id = useId();
    const all = places.length > 0 ? places : [{ place: held.place, name: held.name }];
    return (
        <details class="who" onToggle={(e) => setOpen(e.currentTarget.open)}>
            <summary>
                Where I live, how much is poured, for whom: {whoWords(held)}
            </summary>
            <div class="who-line">
                <label for={id}>
                    <b>Where I live</b>
                </label>
                <select id={id} value={who.place || held.place} onChange={(e) => onWho({ ...who, place: e.currentTarget.value })}>
                    {all.map((p) => (
                        <option value={p.place}>{p.place === "strictest" ? "not said: the strictest of all" : p.name}</option>
                    ))}
                </select>
            </div>
            <Amount
                label="How much is poured"
                side="at a time"
                unit="mL"
                name="serving_ml"
                value={who.serving_ml || String(held.serving_ml)}
                onValue={(serving_ml) => onWho({ ...who, serving_ml })}
            />
            <Amount
                label="For whom"
                side="who weighs"
                unit="kg"
                name="body_weight_kg"
                value={who.body_weight_kg || String(held.body_weight_kg)}
                onValue={(body_weight_kg) => onWho({ ...who, body_weight_kg })}
            />
            <p class="side">Remembered in this browser alone.</p>
            <button type="button" class="text" onClick={() => onWho(NOBODY)}>
                Forget it: the strictest of all
            </button>
        </details>
    );
}

/** The end of every report: whose rules, the choice, what is not known there. */
export function Held({ held, all = true }: { held: HeldAgainst | undefined; all?: boolean }) {
    if (!held) return null;
    return (
        <section class="held" aria-label="What this was held against">
            <Choice held={held} />
            <p class="side on-paper">
                Held against the rules of {held.name}, for {held.serving_ml} mL poured to a person of {held.body_weight_kg} kg.
            </p>
            <p class="side">
                {held.first} Rules known up to {held.year_of_data}. Not known here: {held.unknown}. What is not listed was not looked
                at.{all ? "" : " There was more than is listed here."}
            </p>
        </section>
    );
}

const count = (n: number, one: string, more: string) => `${n} ${n === 1 ? one : more}`;

/** What is over a limit, first of all that is to be watched; the rest stands where it belongs. */
export function Overs({ cautions, withNotes = true }: { cautions: readonly Caution[]; withNotes?: boolean }) {
    const over = cautions.filter((c) => c.level === "over");
    const others = cautions.filter((c) => c.level === "caution").length;
    const notes = withNotes ? cautions.filter((c) => c.level === "note").length : 0;
    if (over.length === 0) return null;
    const rest = [others ? count(others, "caution", "cautions") : "", notes ? count(notes, "note", "notes") : ""].filter(Boolean);
    return (
        <section class="overs" aria-labelledby="overs">
            <h2 id="overs">What to watch first</h2>
            {over.map((c) => (
                <CautionBox caution={c} short />
            ))}
            {rest.length > 0 ? <p class="side">Further down, at what brings it: {rest.join(" and ")}.</p> : null}
        </section>
    );
}
