// What will be in the bottle: three stems, one tip, the recipe with its cautions.

import type { Caution, Foretold } from "./api.js";
import { Overs } from "./held.js";
import { Jar, mayHoldJar } from "./jar.js";
import { Keep } from "./keep.js";
import { More } from "./more.js";
import { CautionBox, isStopped, leftOutWords, quoted, Stops } from "./parts.js";
import { Recipe } from "./recipe.js";
import { Trio, trioOf } from "./trio.js";

function Explain({ onDone }: { onDone: () => void }) {
    return (
        <div class="explain">
            <svg viewBox="0 0 52 50" width="52" height="50" aria-hidden="true">
                <path class="stem-line" d="M4 1v48" />
                <path
                    class="pip"
                    d="M10 11c3-6 11-6 11 0s-8 6-11 0zM23 11c3-6 11-6 11 0s-8 6-11 0zM36 11c3-6 11-6 11 0s-8 6-11 0zM10 25c3-6 11-6 11 0s-8 6-11 0zM23 25c3-6 11-6 11 0s-8 6-11 0zM10 41c3-6 11-6 11 0s-8 6-11 0z"
                />
            </svg>
            <p>Each pip is one of twenty makings. Close together is sure; spread out is not.</p>
            <button type="button" class="text" aria-label="Understood: what a pip is" onClick={onDone}>
                understood
            </button>
        </div>
    );
}

export function noteText(note: { text: string } | string): string {
    return quoted(typeof note === "string" ? note : note.text);
}

function LeftOut({ words }: { words: string[] }) {
    if (words.length === 0) return null;
    return (
        <div class="left-out">
            <p>
                <b>{leftOutWords(words.length)}</b>
            </p>
            {words.slice(0, 5).map((w) => (
                <p class="their-words">{w}</p>
            ))}
            {words.length > 5 ? <p class="side">and {words.length - 5} more</p> : null}
        </div>
    );
}

export interface BottleProps {
    doc: Foretold;
    recipe: string;
    deeds: string[];
    leftOut: string[]; // the maker's words that were not understood
    outside: Caution[]; // of what is named and in no step
    allergens: string; // of that, in words
    isExplained: boolean;
    onExplained: () => void;
    onWords: (() => void) | null;
    onMake: () => void;
}

export function Bottle(p: BottleProps) {
    const { doc, recipe, deeds, leftOut, outside, allergens, isExplained, onExplained, onWords, onMake } = p;
    const figures = trioOf(doc as Parameters<typeof trioOf>[0], doc.pips);
    const cautions = [...outside, ...doc.cautions];
    const stopped = isStopped(cautions);
    const tip = doc.words["tip"] ?? doc.tip;
    return (
        <div class="page bottle">
            <h1 tabIndex={-1}>{doc.title || "Your recipe"}</h1>
            <Stops cautions={cautions} />
            {stopped ? null : <Overs cautions={cautions} />}
            <p class="soft">
                {stopped
                    ? "Not a drink to make: see Stop. The figures are here only so that you see what was read."
                    : "A forecast, not an assay."}
            </p>
            <div class="spread">
                <div class={stopped ? "left paled" : "left"}>
                    <LeftOut words={leftOut} />
                    {allergens ? <p>Allergens that are named and not in these figures: {allergens}.</p> : null}
                    {outside
                        .filter((c) => c.level !== "stop")
                        .map((c) => (
                            <CautionBox caution={c} />
                        ))}
                    {figures ? <Trio figures={figures} bottles={stopped ? undefined : doc.words["bottles"]} /> : null}
                    {stopped || isExplained ? null : <Explain onDone={onExplained} />}
                    {tip && !stopped ? (
                        <p class="tip">
                            <b>One tip.</b> {tip}
                        </p>
                    ) : null}
                    {doc.wish && !stopped ? <p class="side">Your wish: {doc.wish.text.replace(/\bMISSED\b/g, "missed")}.</p> : null}
                    {doc.notes.map((n) => (
                        <p class="side">{noteText(n)}</p>
                    ))}
                    <More doc={doc} />
                </div>
                <div class="right">
                    <Recipe doc={doc} deeds={stopped ? [] : deeds} />
                    {recipe && !stopped ? <Keep recipe={recipe} title={doc.title} /> : null}
                </div>
            </div>
            {recipe && !stopped && mayHoldJar(doc.lines) ? <Jar key={recipe} recipe={recipe} /> : null}
            <div class="foot-bar">
                {onWords ? (
                    <button type="button" class="quiet" onClick={onWords}>
                        Your words
                    </button>
                ) : null}
                {recipe && !stopped ? (
                    <button type="button" class="main" onClick={onMake}>
                        Make it ...
                    </button>
                ) : null}
            </div>
        </div>
    );
}
