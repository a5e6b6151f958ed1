// Mix: what a few lines make together.

import { useContext, useEffect, useRef, useState } from "preact/hooks";
import type { Foretold, Problem } from "./api.js";
import { post } from "./api.js";
import { Overs } from "./held.js";
import { LineProblems } from "./line_problems.js";
import { More } from "./more.js";
import { noteText } from "./bottle.js";
import { cap, isGone, isStopped, Problems, problemsOf, Stops, Waiting } from "./parts.js";
import { Recipe } from "./recipe.js";
import { AskedFor, whoBody } from "./who.js";
import { spokenTrio, Trio, trioOf } from "./trio.js";

export type Mixed = Foretold & { recipe: string | null }; // null where something in it says stop

const SAMPLE = "700 mL vodka 40 %\n200 g sugar\n200 mL water";

/** "how strong is the vodka", asked of a line: what the lines are once it is answered. */
export function withStrength(text: string, line: number, strength: string): string {
    let n = 0;
    return text
        .split("\n")
        .map((l) => {
            if (!l.trim()) return l;
            n++;
            return n === line ? `${l.trimEnd()} ${strength.trim().replace(/\s*%.*$/, "")} %` : l;
        })
        .join("\n");
}

const STRENGTHS = ["37.5", "40", "43", "50"];

interface HowStrongProps {
    problem: Problem;
    words: string; // the line as it was typed
    onAnswer: (strength: string) => void;
}

function HowStrong({ problem, words, onAnswer }: HowStrongProps) {
    const [own, setOwn] = useState("");
    const id = `strength-${problem.line ?? 0}`;
    return (
        <fieldset class="question">
            <legend>{cap(problem.what)}, in % vol?</legend>
            {words ? <p class="their-words">{words}</p> : null}
            <p class="soft">It is printed on the label. {problem.why ? `${cap(problem.why)}.` : ""}</p>
            <div class="answers">
                {STRENGTHS.map((s) => (
                    <button type="button" class="answer" onClick={() => onAnswer(s)}>
                        {s}
                    </button>
                ))}
            </div>
            <div class="own row">
                <label for={id}>Another</label>
                <input
                    id={id}
                    inputMode="decimal"
                    value={own}
                    onInput={(e) => setOwn(e.currentTarget.value)}
                    onKeyDown={(e) => {
                        if (e.key !== "Enter") return;
                        e.preventDefault();
                        if (/\d/.test(own)) onAnswer(own);
                    }}
                />
                <button type="button" onClick={() => (/\d/.test(own) ? onAnswer(own) : undefined)}>
                    Take this
                </button>
            </div>
        </fieldset>
    );
}

/** A line that is sent is one with something in it; this is where each began and ended in what was typed. */
export function linesOf(text: string): { words: string; from: number; to: number }[] {
    let at = 0;
    const all = text.split("\n").map((l) => {
        const from = at;
        at += l.length + 1;
        return { words: l.trim(), from, to: from + l.length };
    });
    return all.filter((l) => l.words);
}

const isHowStrong = (p: Problem) => p.file === "lines" && p.line !== undefined && /^how strong is/.test(p.what);

/** Whose cups is chosen on the page, and not in the lines. */
function aboutCups(p: Problem): Problem {
    return p.try?.startsWith("say measures") ? { ...p, try: "choose whose they are, or write it in mL" } : p;
}

const MEASURES = [
    ["", "not said"],
    ["us", "US"],
    ["metric", "metric"],
    ["imperial", "imperial"],
] as const;

export interface MixProps {
    text: string;
    onText: (text: string) => void;
    measures: string; // whose cups: "" is not said
    onMeasures: (m: string) => void;
    mixed: Mixed | null;
    onMixed: (doc: Mixed | null) => void;
    onMake: () => void;
}

export function Mix({ text, onText, measures, onMeasures, mixed, onMixed, onMake }: MixProps) {
    const [problems, setProblems] = useState<Problem[]>([]);
    const [refused, setRefused] = useState(""); // the lines that the problems are about
    const [busy, setBusy] = useState(false);
    const { who } = useContext(AskedFor);
    const mixedOf = useRef(""); // the lines of what is shown

    async function mix(of: string, whose = measures) {
        const lines = linesOf(of).map((l) => l.words);
        if (lines.length === 0) {
            setProblems([
                { what: "There is nothing to mix yet", try: "write what goes in, one thing a line, or use the sample" },
            ]);
            return;
        }
        setBusy(true);
        try {
            onMixed(await post<Mixed>("/api/mix", { lines, ...(whose ? { measures: whose } : {}), ...whoBody(who) }));
            mixedOf.current = of;
            setProblems([]);
        } catch (x) {
            const told = problemsOf(x);
            setRefused(of);
            setProblems(told);
            if (!isGone(told)) onMixed(null);
        } finally {
            setBusy(false);
        }
    }

    // another place or person: the same lines, held against other rules
    const whoKey = JSON.stringify(whoBody(who));
    const mixedFor = useRef(whoKey);
    useEffect(() => {
        if (mixedFor.current !== whoKey && mixed) void mix(mixedOf.current || text);
        mixedFor.current = whoKey;
    }, [whoKey]);

    const isOfLine = (p: Problem) => p.file === "lines" && p.line !== undefined && !isHowStrong(p);
    const typed = linesOf(refused);
    const change = (line: number) => {
        const box = document.getElementById("mix-lines") as HTMLTextAreaElement | null;
        const now = linesOf(text);
        // where the line stands now, if others were added or taken away meanwhile
        const words = typed[line - 1]?.words;
        const place = now[line - 1]?.words === words ? now[line - 1] : now.find((l) => l.words === words);
        box?.focus();
        if (place) box?.setSelectionRange(place.from, place.to);
    };
    const figures = mixed ? trioOf(mixed as Parameters<typeof trioOf>[0], mixed.pips) : null;
    const stopped = mixed !== null && isStopped(mixed.cautions);
    const tip = mixed?.words["tip"] ?? mixed?.tip;
    return (
        <form
            class="page mix"
            onSubmit={(e) => {
                e.preventDefault();
                void mix(text);
            }}
        >
            <h1 tabIndex={-1}>Mix</h1>
            <p class="soft">
                What do these make together? One thing a line, as a cook writes it. Fruit and spice are taken as steeped
                until they have given all they can, and strained off.
            </p>
            {mixed ? <Stops cautions={mixed.cautions} /> : null}
            {mixed && !stopped ? <Overs cautions={mixed.cautions} /> : null}
            {stopped ? <p class="soft">Not a drink to make: see Stop.</p> : null}
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
                        aria-invalid={problems.some(isOfLine)}
                        aria-describedby="mix-problems"
                        onInput={(e) => onText(e.currentTarget.value)}
                    />
                    <p class="whose">
                        <label for="mix-measures">Cups, pints, ounces and bottles are</label>{" "}
                        <select
                            id="mix-measures"
                            value={measures}
                            onChange={(e) => {
                                onMeasures(e.currentTarget.value);
                                if (text.trim() && (mixed || problems.length > 0)) void mix(text, e.currentTarget.value);
                            }}
                        >
                            {MEASURES.map(([value, words]) => (
                                <option value={value}>{words}</option>
                            ))}
                        </select>
                    </p>
                    {problems.filter(isHowStrong).map((p) => (
                        <HowStrong
                            key={`${p.line}`}
                            problem={p}
                            words={typed[(p.line ?? 0) - 1]?.words ?? ""}
                            onAnswer={(s) => {
                                const next = withStrength(text, p.line ?? 0, s);
                                onText(next);
                                void mix(next);
                            }}
                        />
                    ))}
                    <div id="mix-problems">
                        <LineProblems
                            problems={problems.filter(isOfLine).map(aboutCups)}
                            words={(line) => typed[line - 1]?.words ?? ""}
                            onChange={change}
                        />
                        <Problems
                            problems={problems.filter((p) => !isOfLine(p) && !isHowStrong(p)).map(aboutCups)}
                            onAgain={() => void mix(text)}
                        />
                    </div>
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
                            <div class={stopped ? "paled" : ""}>
                                <Trio figures={figures} />
                            </div>
                            {mixed.notes.map((n) => (
                                <p class="side">{noteText(n)}</p>
                            ))}
                            {tip && !stopped ? (
                                <p class="tip">
                                    <b>One tip.</b> {tip}
                                </p>
                            ) : null}
                            <Recipe doc={mixed} title="What goes in, and what to watch" />
                            <More doc={mixed} />
                        </>
                    ) : null}
                </div>
            </div>
            <p class="only-spoken" role="status">
                {busy || !figures ? "" : `${stopped ? "Not a drink to make: see Stop. " : ""}${spokenTrio(figures)}`}
            </p>
            <div class="foot-bar">
                {mixed?.recipe ? (
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
