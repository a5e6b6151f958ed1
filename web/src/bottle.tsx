// What will be in the bottle: three stems, one tip, the recipe with its cautions.

import type { Foretold } from "./api.js";
import { Keep } from "./keep.js";
import { More } from "./more.js";
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
    return typeof note === "string" ? note : note.text;
}

export interface BottleProps {
    doc: Foretold;
    recipe: string;
    deeds: string[];
    isExplained: boolean;
    onExplained: () => void;
    onWords: (() => void) | null;
    onMake: () => void;
}

export function Bottle({ doc, recipe, deeds, isExplained, onExplained, onWords, onMake }: BottleProps) {
    const figures = trioOf(doc as Parameters<typeof trioOf>[0], doc.pips);
    return (
        <div class="page bottle">
            <h1 tabIndex={-1}>{doc.title || "Your recipe"}</h1>
            <p class="soft">A forecast, not an assay.</p>
            <div class="spread">
                <div class="left">
                    {figures ? <Trio figures={figures} bottles={doc.words["bottles"]} /> : null}
                    {isExplained ? null : <Explain onDone={onExplained} />}
                    {doc.tip ? (
                        <p class="tip">
                            <b>One tip.</b> {doc.tip}
                        </p>
                    ) : null}
                    {doc.wish ? <p class="side">Your wish: {doc.wish.text.replace(/\bMISSED\b/g, "missed")}.</p> : null}
                    {doc.notes.map((n) => (
                        <p class="side">{noteText(n)}</p>
                    ))}
                    <More doc={doc} />
                </div>
                <div class="right">
                    <Recipe doc={doc} deeds={deeds} />
                    <Keep recipe={recipe} title={doc.title} />
                </div>
            </div>
            <div class="foot-bar">
                {onWords ? (
                    <button type="button" class="quiet" onClick={onWords}>
                        Your words
                    </button>
                ) : null}
                <button type="button" class="main" onClick={onMake}>
                    Make it ...
                </button>
            </div>
        </div>
    );
}
