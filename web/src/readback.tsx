// The reading: at most three questions, then the maker's words with what was understood.

import { useEffect, useRef, useState } from "preact/hooks";
import type { Problem, Question, Row, Taken } from "./api.js";
import { get } from "./api.js";
import { Problems, Waiting } from "./parts.js";

const NOT_KNOWN = "don't know";

// How answers stand: in one row of short ones, in rows of three, or wide.
function answersClass(q: Question): string {
    if (q.options.some((o) => o.length > 9)) return "answers long";
    return q.options.length + (q.own_words ? 2 : 1) >= 6 ? "answers n6" : "answers";
}

function Ask({ q, onAnswer }: { q: Question; onAnswer: (value: string) => void }) {
    const [own, setOwn] = useState<string | null>(null);
    const box = useRef<HTMLInputElement>(null);
    useEffect(() => {
        if (own !== null) box.current?.focus();
    }, [own !== null]);
    const isOwn = q.answered !== null && q.answered !== NOT_KNOWN && !q.options.includes(q.answered);
    return (
        <fieldset class="question">
            <legend>{q.ask}</legend>
            <p class="soft">{q.why}</p>
            <div class={answersClass(q)}>
                {q.options.map((o) => (
                    <button type="button" class="answer" aria-pressed={q.answered === o} onClick={() => onAnswer(o)}>
                        {q.answered === o ? <span class="chosen">✓</span> : null}
                        {o}
                    </button>
                ))}
                {q.own_words ? (
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
            {own !== null ? (
                <form
                    class="own row"
                    onSubmit={(e) => {
                        e.preventDefault();
                        if (own.trim()) onAnswer(own.trim());
                        setOwn(null);
                    }}
                >
                    <label for={`own-${q.id}`}>In your words</label>
                    <input id={`own-${q.id}`} ref={box} value={own} onInput={(e) => setOwn(e.currentTarget.value)} />
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
    useEffect(() => {
        box.current?.focus();
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
    open,
    onOpen,
    onChange,
}: {
    rows: Row[];
    open: boolean;
    onOpen: (on: boolean) => void;
    onChange: (text: string) => void;
}) {
    const first = rows[0]!;
    const button = useRef<HTMLButtonElement>(null);
    return (
        <li class="read-as">
            <div>
                <p class="their-words">{first.words}</p>
                {rows.map((r) => (
                    <p class={`reading ${r.sure}`}>
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
        </li>
    );
}

const NUMBER = [
    "No",
    "One",
    "Two",
    "Three",
    "Four",
    "Five",
    "Six",
    "Seven",
    "Eight",
    "Nine",
    "Ten",
    "Eleven",
    "Twelve",
];

export function summary(taken: Taken): string {
    const read = taken.rows.filter((r) => (r.role === "ingredient" || r.role === "step") && r.sure !== "unread").length;
    const open = taken.questions.filter((q) => q.answered === null).length;
    const n = (x: number) => NUMBER[x] ?? String(x);
    const lines = `${n(read)} ${read === 1 ? "thing" : "things"} understood.`;
    if (open === 0) return lines;
    return `${lines} ${n(open)} ${open === 1 ? "question" : "questions"} would make it surer.`;
}

export interface ReadBackProps {
    taken: Taken;
    busy: boolean;
    problems: Problem[];
    onAnswer: (id: string, value: string) => void;
    onChange: (line: number, text: string) => void;
    onForesee: () => void;
    onPaste: () => void;
}

export function ReadBack(p: ReadBackProps) {
    const [open, setOpen] = useState<number | null>(null);
    const { taken } = p;
    const told = byLine(taken.rows.filter((r) => r.role === "ingredient" || r.role === "step" || r.sure === "unread"));
    const notes = taken.rows.filter((r) => (r.role === "note" || r.role === "heading") && r.sure !== "unread");
    return (
        <div class="page readback">
            <h1 tabIndex={-1}>{taken.title || "Your recipe"}</h1>
            <p class="soft">{summary(taken)}</p>
            <div class="spread">
                <div class="left">
                    {taken.questions.map((q) => (
                        <Ask key={q.id} q={q} onAnswer={(v) => p.onAnswer(q.id, v)} />
                    ))}
                    {taken.questions.length === 0 ? <p class="side">Nothing needs to be asked.</p> : null}
                    {taken.more_questions > 0 ? (
                        <p class="side">What else is not said stands as a range; it moves the bottle less.</p>
                    ) : null}
                    <Problems problems={p.problems} />
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
                                open={open === i}
                                onOpen={(on) => setOpen(on ? i : null)}
                                onChange={(t) => p.onChange(rows[0]!.line, t)}
                            />
                        ))}
                    </ul>
                    {taken.said.length > 0 ? (
                        <ul class="said">
                            {taken.said.map((s) => (
                                <li>{s}</li>
                            ))}
                        </ul>
                    ) : null}
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
                <button type="button" class="main" disabled={!taken.foretold} onClick={p.onForesee}>
                    What will I get?
                </button>
            </div>
        </div>
    );
}
