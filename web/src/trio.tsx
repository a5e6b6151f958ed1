// Strength, sugar and what is in the bottle, side by side: figure, what is likely, stem, count.

import type { FigureName, Range, Wish } from "./api.js";
import { rangeOf } from "./blank.js";
import type { Figure } from "./figure.js";
import { rounded } from "./figure.js";
import { Likely } from "./parts.js";
import { Cite } from "./sources.js";
import type { Scale } from "./scale.js";
import { scaleAbout } from "./scale.js";
import { Count, spoken, Stem } from "./stem.js";

export interface Followed {
    figure: Figure;
    pips: readonly number[];
}

export interface TrioFigures {
    strength: Followed;
    sugar: Followed;
    volume: Followed; // litres
}

type Told = { value: number; low: number; high: number; status: Figure["status"] };

function litres(f: Followed): Followed {
    const l = (x: number) => x / 1000;
    const { value, low, high, status } = f.figure;
    return { figure: { value: l(value), low: l(low), high: l(high), status }, pips: f.pips.map(l) };
}

/** The three of a document: figures and pips may stand apart or together. */
export function trioOf(
    figures: Partial<Record<FigureName, Told & { pips?: number[] }>>,
    pips?: Partial<Record<FigureName, number[]>>,
): TrioFigures | null {
    const one = (name: FigureName): Followed | null => {
        const f = figures[name];
        if (!f) return null;
        return { figure: f, pips: f.pips ?? pips?.[name] ?? [] };
    };
    const [strength, sugar, volume] = [one("strength_pct_vol"), one("sugar_g_l"), one("volume_ml")];
    return strength && sugar && volume ? { strength, sugar, volume: litres(volume) } : null;
}

/** What the voice says when figures have come: each with its ends. */
export function spokenTrio({ strength, sugar, volume }: TrioFigures): string {
    const one = (name: string, f: Followed, spokenUnit: string) =>
        spoken({ name, unit: "", spokenUnit, figure: f.figure, pips: f.pips });
    return [
        one("Strength", strength, "per cent by volume"),
        one("Sugar", sugar, "grams a litre"),
        one("In the bottle", volume, "litres"),
    ].join(" ");
}

export interface TrioWish {
    strength: Range | undefined;
    sugar: Range | undefined;
    volume: Range | undefined; // litres
}

/** Bottles wished are litres on the stem. */
export function trioWish(wish: Wish | null): TrioWish {
    const size = (wish?.bottle_ml ?? 0) / 1000;
    const bottles = rangeOf("bottles", wish?.bottles);
    const volume: Range | undefined =
        bottles && size > 0
            ? [bottles[0] === null ? null : bottles[0] * size, bottles[1] === null ? null : bottles[1] * size]
            : undefined;
    return {
        strength: rangeOf("strength_pct_vol", wish?.strength_pct_vol),
        sugar: rangeOf("sugar_g_l", wish?.sugar_g_l),
        volume,
    };
}

export type TrioScales = Record<keyof TrioFigures, Scale>;

export function scalesOf(f: TrioFigures, wish: TrioWish): TrioScales {
    return {
        strength: scaleAbout(f.strength.figure.low, f.strength.figure.high, wish.strength),
        sugar: scaleAbout(f.sugar.figure.low, f.sugar.figure.high, wish.sugar),
        volume: scaleAbout(f.volume.figure.low, f.volume.figure.high, wish.volume),
    };
}

interface ColumnProps {
    name: string;
    cited: string; // as the list of sources names it
    unit: string;
    spokenUnit: string;
    of: Followed;
    wish: Range | undefined;
    scale: Scale | undefined;
    moving: boolean;
    compact: boolean;
    counted: boolean;
    words?: { number: string; rest: string } | undefined;
}

function Column(p: ColumnProps) {
    const { name, cited, unit, spokenUnit, of, wish, scale, moving, compact, counted, words } = p;
    const r = rounded(of.figure);
    return (
        <div class="column">
            <div class="column-words">
                <p class="label">
                    {name} <Cite of={cited} />
                </p>
                <p class="figure">
                    <b>{words?.number ?? r.value}</b>{" "}
                    <span class={words ? "unit words" : "unit"}>{words?.rest ?? unit}</span>
                    {of.figure.status === "extrapolated" ? <span class="guess">guess</span> : null}
                </p>
                <Likely figure={of.figure} unit={words ? unit : ""} />
            </div>
            <Stem
                name={words ? "In the bottle" : name}
                unit={unit}
                spokenUnit={spokenUnit}
                figure={of.figure}
                pips={of.pips}
                wish={wish}
                scale={scale}
                moving={moving}
                height={compact ? 116 : 236}
                numerals={!compact}
                counted={counted}
            />
            {counted ? <Count pips={of.pips} wish={wish} /> : null}
        </div>
    );
}

/** "2 bottles of 500 mL and a glass": the number, and the rest of it. */
export function bottleWords(text: string | undefined): { label: string; number: string; rest: string } | null {
    const found = /^(\S+) bottles? of ([\d.,]+\s*\S+)\s*(.*)$/.exec(text ?? "");
    if (!found) return null;
    return { label: `Bottles of ${found[2]}`, number: found[1]!, rest: found[3]! };
}

export interface TrioProps {
    figures: TrioFigures;
    wish?: Wish | null;
    scales?: TrioScales;
    moving?: boolean;
    compact?: boolean;
    counted?: boolean; // the makings in the wish are told
    bottles?: string | undefined; // in words
}

export function Trio(p: TrioProps) {
    const { figures, wish = null, scales, moving = false, compact = false, counted = true, bottles } = p;
    const w = trioWish(wish);
    const words = bottleWords(bottles);
    const rest = { moving, compact, counted };
    return (
        <div class={compact ? "trio compact" : "trio"}>
            <Column
                name="Strength"
                cited="strength"
                unit="% vol"
                spokenUnit="per cent by volume"
                of={figures.strength}
                wish={w.strength}
                scale={scales?.strength}
                {...rest}
            />
            <Column
                name="Sugar"
                cited="sugar"
                unit="g/L"
                spokenUnit="grams a litre"
                of={figures.sugar}
                wish={w.sugar}
                scale={scales?.sugar}
                {...rest}
            />
            <Column
                name={words?.label ?? "In the bottle"}
                cited="volume"
                unit="L"
                spokenUnit="litres"
                of={figures.volume}
                wish={w.volume}
                scale={scales?.volume}
                words={words ? { number: words.number, rest: words.rest } : undefined}
                {...rest}
            />
        </div>
    );
}
