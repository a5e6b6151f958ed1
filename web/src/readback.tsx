// The reading: at most three questions, then the maker's words with what was understood.

import { useEffect, useRef, useState } from "preact/hooks";
import type { Caution, Problem, Question, Row, Taken } from "./api.js";
import { get } from "./api.js";
import { Held, Overs } from "./held.js";
import { CautionBox, isStopped, numberWord, Problems, Stops, Waiting } from "./parts.js";

const NOT_KNOWN = "don't know";

// How answers stand: in one row of short ones, in rows of three, or wide.
function answersClass(q: Question): string {
    if (q.options.some((o) => o.length > 9)) return "answers long";
    return q.options.length + (q.own_words ? 2 : 1) >= 6 ? "answers n6" : "answers";
}

/** Why an answer was not taken. */
export function notReadWords(q: Question): string {
    if (!q.not_read) return "";
    const own = q.own_words ? "say it in other words" : "";
    const way = [q.options.length > 0 ? "take one of these" : "", own].filter(Boolean).join(", or ");
    return `“${q.not_read}” could not be read as an answer: ${way}.`;
}

function Ask({ q, words, onAnswer }: { q: Question; words: string; onAnswer: (value: string) => void }) {
    const onlyOwn = q.own_words && q.options.length === 0;
    const [own, setOwn] = useState<string | null>(null);
    const box = useRef<HTMLInputElement>(null);
    useEffect(() => {
        if (own !== null) box.current?.focus();
    }, [own !== null]);
    const notRead = notReadWords(q);
    const isOwn = q.answered !== null && q.answered !== NOT_KNOWN && !q.options.includes(q.answered);
    return (
        <fieldset class="question">
            <legend>{q.ask}</legend>
            {words ? <p class="their-words">{words}</p> : null}
            <p class="soft">{q.why}</p>
            {notRead ? (
                <p class="not-read" role="alert">
                    {notRead}
                </p>
            ) : null}
            <div class={answersClass(q)}>
                {q.options.map((o) => (
                    <button type="button" class="answer" aria-pressed={q.answered === o} onClick={() => onAnswer(o)}>
                        {q.answered === o ? <span class="chosen">✓</span> : null}
                        {o}
                    </button>
                ))}
                {q.own_words && !onlyOwn ? (
                    <button
                        type="button"
                        class="answer"
                        aria-pressed={isOwn}
                        aria-expanded={own !== null}
                        onClick={() => setOwn(own === null ? "" : null)}
                    >
                        {isOwn ? <span class="chosen">✓</span> : null}
                        {isOwn ? q.answered : "other"}
                    </button>
                ) : null}
                <button
                    type="button"
                    class="answer"
                    aria-pressed={q.answered === NOT_KNOWN}
                    onClick={() => onAnswer(NOT_KNOWN)}
                >
                    {q.answered === NOT_KNOWN ? <span class="chosen">✓</span> : null}
                    don’t know
                </button>
            </div>
            {own !== null || onlyOwn ? (
                <form
                    class="own row"
                    onSubmit={(e) => {
                        e.preventDefault();
                        if (own?.trim()) onAnswer(own.trim());
                        setOwn(null);
                    }}
                >
                    <label for={`own-${q.id}`}>{onlyOwn ? "Say it in other words" : "In your words"}</label>
                    <input
                        id={`own-${q.id}`}
                        ref={box}
                        value={own ?? (isOwn ? (q.answered ?? "") : "")}
                        onInput={(e) => setOwn(e.currentTarget.value)}
                    />
                    <button type="submit">Take this</button>
                </form>
            ) : null}
        </fieldset>
    );
}

// The word the maker is typing, for near names: the last run of letters.
function lastWord(text: string): string {
    return /([\p{L}][\p{L} '-]*)$/u.exec(text)?.[1]?.trim() ?? "";
}

function Change({ row, onDone }: { row: Row; onDone: (text: string | null) => void }) {
    const [text, setText] = useState(row.read_as || row.words);
    const [near, setNear] = useState<string[]>([]);
    const box = useRef<HTMLInputElement>(null);
    const form = useRef<HTMLFormElement>(null);
    useEffect(() => {
        box.current?.focus({ preventScroll: true });
        form.current?.scrollIntoView({ block: "nearest" }); // its last button too, above the bar at the foot
    }, []);
    useEffect(() => {
        const like = lastWord(text);
        if (like.length < 3) return undefined;
        const timer = setTimeout(() => {
            get<{ ingredients: { name: string }[] }>(`/api/ingredients?like=${encodeURIComponent(like)}`)
                .then((a) => setNear(a.ingredients.map((x) => x.name)))
                .catch(() => setNear([]));
        }, 150);
        return () => clearTimeout(timer);
    }, [text]);
    const id = `change-${row.line}`;
    return (
        <form
            class="change-form"
            ref={form}
            onSubmit={(e) => {
                e.preventDefault();
                onDone(text.trim());
            }}
            onKeyDown={(e) => {
                if (e.key === "Escape") onDone(null);
            }}
        >
            <label for={id}>It means</label>
            <input id={id} ref={box} value={text} list={`${id}-near`} onInput={(e) => setText(e.currentTarget.value)} />
            <datalist id={`${id}-near`}>
                {near.map((n) => (
                    <option value={text.slice(0, text.length - lastWord(text).length) + n} />
                ))}
            </datalist>
            <div class="row">
                <button type="submit">Change it</button>
                <button type="button" class="quiet" onClick={() => onDone("")}>
                    Leave it out
                </button>
                <button type="button" class="quiet" onClick={() => onDone(null)}>
                    Not now
                </button>
            </div>
        </form>
    );
}

/** What goes in, what is done, and what ought to be one of both. */
function isReckoned(r: Row): boolean {
    return r.role === "ingredient" || r.role === "step" || r.sure === "unread";
}

const NOTHING_READ = "Not understood: left out of the reckoning";

/** Rows of one line of the maker's stand under its words once. */
export function byLine(rows: Row[]): Row[][] {
    const out: Row[][] = [];
    for (const row of rows) {
        const last = out[out.length - 1];
        if (last && last[0]!.line === row.line && last[0]!.words === row.words) last.push(row);
        else out.push([row]);
    }
    return out;
}

function ReadAs({
    rows,
    cautions,
    open,
    onOpen,
    onChange,
}: {
    rows: Row[];
    cautions: Caution[];
    open: boolean;
    onOpen: (on: boolean) => void;
    onChange: (text: string) => void;
}) {
    const first = rows[0]!;
    const button = useRef<HTMLButtonElement>(null);
    return (
        <li class="read-line">
            <div class="read-as">
            <div>
                <p class="their-words">{first.words}</p>
                {rows.map((r) => (
                    <p class={`reading ${r.sure}`} hidden={!isReckoned(r)}>
                        {r.sure === "unread" ? NOTHING_READ : r.read_as}
                        {r.optional ? <span class="soft"> (if you like)</span> : null}
                        {r.because ? <span class="because">{r.because}</span> : null}
                    </p>
                ))}
                {open ? (
                    <Change
                        row={first}
                        onDone={(text) => {
                            onOpen(false);
                            if (text !== null) onChange(text);
                            button.current?.focus();
                        }}
                    />
                ) : null}
            </div>
            {open ? null : (
                <button
                    type="button"
                    class="text"
                    ref={button}
                    aria-label={`change: ${first.words}`}
                    onClick={() => onOpen(true)}
                >
                    change
                </button>
            )}
            </div>
            {cautions.map((c) => (
                <CautionBox caution={c} />
            ))}
        </li>
    );
}

function rowOf(rows: Row[], c: Caution): Row | undefined {
    if (c.row !== undefined) return rows[c.row];
    return c.line ? rows.find((r) => r.at?.step === c.step && r.at?.line === c.line) : undefined;
}

/** Cautions at the first row of the line that brings them, and those of no row. */
export function cautionsByRow(rows: Row[], cautions: Caution[]): { at: Map<Row, Caution[]>; rest: Caution[] } {
    const at = new Map<Row, Caution[]>();
    const rest: Caution[] = [];
    for (const c of cautions) {
        const row = rowOf(rows, c);
        if (!row) {
            // the same plant poured in at another step is told at its first line
            if (![...at.values()].flat().some((x) => x.what === c.what)) rest.push(c);
            continue;
        }
        const mine = at.get(row) ?? [];
        if (!mine.some((x) => x.what === c.what)) at.set(row, [...mine, c]);
    }
    return { at, rest };
}

export function summary(taken: Taken): string {
    const read = taken.rows.filter((r) => (r.role === "ingredient" || r.role === "step") && r.sure !== "unread").length;
    const open = taken.questions.filter((q) => q.answered === null).length;
    const lines = `${numberWord(read)} ${read === 1 ? "thing" : "things"} understood.`;
    const unread = new Set(taken.rows.filter((r) => r.sure === "unread").map((r) => r.words)).size;
    const left = unread === 0 ? "" : ` ${numberWord(unread)} not understood and left out.`;
    if (open === 0) return lines + left;
    return `${lines}${left} ${numberWord(open)} ${open === 1 ? "question" : "questions"} would make it surer.`;
}

/** What is not asked: a range stands for it, or it is left out. */
export function notAskedWords(taken: Taken): string {
    const left = taken.rows.some((r) => r.sure === "unread");
    if (taken.more_questions > 0)
        return left
            ? "What else is not said stands as a range, or is left out where it was not understood."
            : "What else is not said stands as a range; it moves the bottle less.";
    if (left) return "What was not understood is left out: “change” says it in other words.";
    return taken.questions.length > 0 ? "" : "Nothing needs to be asked.";
}

export interface ReadBackProps {
    taken: Taken;
    busy: boolean;
    problems: Problem[];
    onAnswer: (id: string, value: string) => void;
    onChange: (line: number, text: string) => void;
    onAgain: () => void; // the last answer or change, where nobody took it
    onForesee: () => void;
    onPaste: () => void;
}

export function ReadBack(p: ReadBackProps) {
    const [open, setOpen] = useState<number | null>(null);
    const { taken } = p;
    const cautions = [...(taken.cautions ?? []), ...(taken.foretold?.cautions ?? [])];
    const { at, rest } = cautionsByRow(taken.rows, cautions);
    const told = byLine(taken.rows.filter((r) => isReckoned(r) || at.has(r)));
    const stopped = isStopped(cautions);
    const said = taken.said.filter((s) => !s.startsWith("STOP")); // it stands on top
    const wordsOf = (q: Question) => {
        const rows = taken.rows.filter((r) => q.line > 0 && r.line === q.line);
        return (rows.find((r) => r.sure !== "sure") ?? rows[0])?.words ?? "";
    };
    const unasked = notAskedWords(taken);
    const needsAsking = taken.questions.length > 0 || p.problems.length > 0 || !taken.foretold;
    const isNote = (r: Row) => (r.role === "note" || r.role === "heading") && !isReckoned(r) && !at.has(r);
    const notes = taken.rows.filter(isNote);
    return (
        <div class="page readback">
            <h1 tabIndex={-1}>{taken.title || "Your recipe"}</h1>
            <p class="soft" role="status">
                {summary(taken)}
            </p>
            <Stops cautions={cautions} />
            {stopped ? null : <Overs cautions={cautions} />}
            <div class={needsAsking ? "spread" : "spread single"}>
                <div class="left">
                    {taken.questions.map((q) => (
                        <Ask key={q.id} q={q} words={wordsOf(q)} onAnswer={(v) => p.onAnswer(q.id, v)} />
                    ))}
                    {unasked ? <p class="side">{unasked}</p> : null}
                    <Problems problems={p.problems} onAgain={p.onAgain} />
                    <Waiting on={p.busy}>Reading it again ...</Waiting>
                    {taken.foretold ? null : (
                        <Problems problems={[{ what: "This does not make a bottle yet", why: taken.because }]} />
                    )}
                </div>
                <section class="right" aria-labelledby="read-as">
                    <h2 id="read-as">Your words, read as</h2>
                    <ul class="lines">
                        {told.map((rows, i) => (
                            <ReadAs
                                key={`${rows[0]!.line}-${i}`}
                                rows={rows}
                                cautions={rows.flatMap((r) => at.get(r) ?? [])}
                                open={open === i}
                                onOpen={(on) => setOpen(on ? i : null)}
                                onChange={(t) => p.onChange(rows[0]!.line, t)}
                            />
                        ))}
                    </ul>
                    {said.length > 0 ? (
                        <ul class="said">
                            {said.map((s) => (
                                <li>{s}</li>
                            ))}
                        </ul>
                    ) : null}
                    {rest.length > 0 ? (
                        <>
                            <h3>In the whole bottle</h3>
                            {rest.map((c) => (
                                <CautionBox caution={c} />
                            ))}
                        </>
                    ) : null}
                    <Held held={taken.foretold?.held_against} all={taken.foretold?.all_reckoned !== false} />
                    {notes.length > 0 ? (
                        <details>
                            <summary>Kept as your notes</summary>
                            {notes.map((r) => (
                                <p class="their-words">{r.words}</p>
                            ))}
                        </details>
                    ) : null}
                </section>
            </div>
            <div class="foot-bar">
                <button type="button" class="quiet" onClick={p.onPaste}>
                    Your words
                </button>
                <button
                    type="button"
                    class={stopped ? "quiet" : "main"}
                    disabled={!taken.foretold}
                    onClick={p.onForesee}
                >
                    What will I get?
                </button>
            </div>
        </div>
    );
}
