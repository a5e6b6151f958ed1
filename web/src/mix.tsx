// Mix: what a few lines make together.

import { useState } from "preact/hooks";
import type { Foretold, Problem } from "./api.js";
import { post } from "./api.js";
import { More } from "./more.js";
import { Problems, problemsOf, Waiting } from "./parts.js";
import { Recipe } from "./recipe.js";
import { Trio, trioOf } from "./trio.js";

export type Mixed = Foretold & { recipe: string };

const SAMPLE = "700 mL vodka 40 %\n200 g sugar\n200 mL water";

export interface MixProps {
    text: string;
    onText: (text: string) => void;
    mixed: Mixed | null;
    onMixed: (doc: Mixed | null) => void;
    onMake: () => void;
}

export function Mix({ text, onText, mixed, onMixed, onMake }: MixProps) {
    const [problems, setProblems] = useState<Problem[]>([]);
    const [busy, setBusy] = useState(false);

    async function mix(e: Event) {
        e.preventDefault();
        const lines = text
            .split("\n")
            .map((l) => l.trim())
            .filter(Boolean);
        if (lines.length === 0) {
            setProblems([
                { what: "There is nothing to mix yet", try: "write what goes in, one thing a line, or use the sample" },
            ]);
            return;
        }
        setBusy(true);
        try {
            onMixed(await post<Mixed>("/api/mix", { lines }));
            setProblems([]);
        } catch (x) {
            setProblems(problemsOf(x));
            onMixed(null);
        } finally {
            setBusy(false);
        }
    }

    const figures = mixed ? trioOf(mixed as Parameters<typeof trioOf>[0], mixed.pips) : null;
    return (
        <form class="page mix" onSubmit={mix}>
            <h1 tabIndex={-1}>Mix</h1>
            <p class="soft">What do these make together? One thing a line, as a cook writes it; nothing is steeped.</p>
            <div class="spread">
                <div class="left">
                    <label class="field-name" for="mix-lines">
                        What goes in
                    </label>
                    <textarea
                        id="mix-lines"
                        rows={5}
                        value={text}
                        placeholder={SAMPLE}
                        spellcheck={false}
                        aria-describedby="mix-problems"
                        onInput={(e) => onText(e.currentTarget.value)}
                    />
                    <Problems problems={problems} id="mix-problems" />
                    <Waiting on={busy}>Working it out ...</Waiting>
                    {text.trim() ? null : (
                        <button type="button" class="text" onClick={() => onText(SAMPLE)}>
                            Use an invented sample
                        </button>
                    )}
                </div>
                <div class="right">
                    {mixed && figures ? (
                        <>
                            <Trio figures={figures} />
                            {mixed.tip ? (
                                <p class="tip">
                                    <b>One tip.</b> {mixed.tip}
                                </p>
                            ) : null}
                            <Recipe doc={mixed} title="What goes in, and what to watch" />
                            <More doc={mixed} />
                        </>
                    ) : null}
                </div>
            </div>
            <div class="foot-bar">
                {mixed ? (
                    <button type="button" class="quiet" onClick={onMake}>
                        Make it ...
                    </button>
                ) : null}
                <button type="submit" class="main" disabled={busy}>
                    What will I get?
                </button>
            </div>
        </form>
    );
}
