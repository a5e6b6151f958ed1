// The pages: what is open, and what was read so far.  Nothing is kept anywhere else.

import { render } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Foretold, Problem, Taken } from "./api.js";
import { post } from "./api.js";
import type { Blanks } from "./blank.js";
import { Bottle } from "./bottle.js";
import { Make } from "./make.js";
import type { Mixed } from "./mix.js";
import { Mix } from "./mix.js";
import { isStopped, Problems, problemsOf, Waiting } from "./parts.js";
import { Paste } from "./paste.js";
import { ReadBack } from "./readback.js";
import type { Route } from "./shell.js";
import { go, Shell, useRoute } from "./shell.js";
import type { Tested } from "./test_bottle.js";
import { numbered, WithSources } from "./sources.js";
import { TestBottle } from "./test_bottle.js";
import type { Work } from "./turning.js";
import type { Who } from "./who.js";
import { AskedFor, rememberedWho, rememberWho, whoBody } from "./who.js";
import { WithWorst } from "./worst.js";

interface Said {
    answers: Record<string, string>;
    changes: Record<string, string>;
}

const NOTHING: Said = { answers: {}, changes: {} };

/** Pages that need a recipe open the first one instead when there is none. */
function reachable(route: Route, taken: Taken | null, doc: Foretold | null, hasRecipe: boolean): Route {
    if (route === "read" && !taken) return "recipe";
    if (route === "make" && doc && !hasRecipe) return "get";
    if ((route === "get" || route === "make") && !doc) return taken ? "read" : "recipe";
    return route;
}

/** What the maker wrote is to be done, each sentence once. */
function deedsOf(taken: Taken | null): string[] {
    return [
        ...new Set((taken?.rows ?? []).filter((r) => r.role === "step").map((r) => (r.changed ? r.read_as : r.words))),
    ];
}

/** The maker's words that were not understood, each once. */
function leftOutOf(taken: Taken | null): string[] {
    return [...new Set((taken?.rows ?? []).filter((r) => r.sure === "unread").map((r) => r.words))];
}

function App() {
    const wanted = useRoute();
    const [text, setText] = useState("");
    const [said, setSaid] = useState<Said>(NOTHING);
    const [taken, setTaken] = useState<Taken | null>(null);
    const [doc, setDoc] = useState<Foretold | null>(null);
    const [recipe, setRecipe] = useState("");
    const [written, setWritten] = useState<{ doc: Foretold; recipe: string } | null>(null); // before it was turned
    const work = useRef<Work | null>(null);
    const tested = useRef<Tested | null>(null);
    const staying = useRef<ReadonlySet<string>>(new Set());
    const [blanks, setBlanks] = useState<Blanks | null>(null);
    const [isExplained, setExplained] = useState(false);
    const [mixText, setMixText] = useState("");
    const [mixed, setMixed] = useState<Mixed | null>(null);
    const [measures, setMeasures] = useState("");
    const [busy, setBusy] = useState("");
    const [problems, setProblems] = useState<Problem[]>([]);
    const [who, setWho] = useState<Who>(rememberedWho);
    const turn = useRef(0);
    const asked = useRef(""); // the recipe that was foreseen last
    const stopped = doc !== null && isStopped(doc.cautions); // then there is nothing to make
    const route = reachable(wanted, taken, doc, Boolean(recipe) && !stopped);

    useEffect(() => {
        setProblems([]);
    }, [route]);

    function open(next: Foretold | null, file: string) {
        setDoc(next);
        setRecipe(file);
        setWritten(next ? { doc: next, recipe: file } : null);
        work.current = null;
        staying.current = new Set();
        setBlanks(null);
    }

    function firstTaken(t: Taken) {
        setSaid(NOTHING);
        setTaken(t);
        open(t.foretold, t.recipe);
        go("read");
    }

    // Every question put to the reader carries all that was said; an older answer never replaces a newer one.
    async function again(next: Said) {
        setSaid(next);
        const mine = ++turn.current;
        setBusy("read");
        try {
            const t = await post<Taken>("/api/take", { text, ...next, ...whoBody(who) });
            if (mine !== turn.current) return;
            setTaken(t);
            open(t.foretold, t.recipe);
            setProblems([]);
        } catch (e) {
            if (mine === turn.current) setProblems(problemsOf(e));
        } finally {
            if (mine === turn.current) setBusy("");
        }
    }

    /** The same recipes, held against other rules: nothing that was turned or wished is lost. */
    async function heldAnew(next: Who) {
        setWho(next);
        rememberWho(next);
        const mine = ++turn.current;
        const ask = (file: string) => post<Foretold>("/api/foresee", { recipe: file, ...whoBody(next) });
        try {
            const now = recipe && doc ? await ask(recipe) : null;
            const first = written && written.recipe !== recipe ? await ask(written.recipe) : now;
            const again = taken && !recipe ? await post<Taken>("/api/take", { text, ...said, ...whoBody(next) }) : null;
            if (mine !== turn.current) return;
            if (again) {
                setTaken(again);
                open(again.foretold, again.recipe);
            }
            if (now) setDoc(now);
            if (written && first) setWritten({ ...written, doc: first });
            if (taken?.recipe && first && taken.recipe === written?.recipe) setTaken({ ...taken, foretold: first });
            setProblems([]);
        } catch (e) {
            if (mine === turn.current) setProblems(problemsOf(e));
        }
    }

    async function foresee(file: string) {
        asked.current = file;
        setBusy("get");
        try {
            const next = await post<Foretold>("/api/foresee", { recipe: file, ...whoBody(who) });
            setProblems([]);
            setDoc(next);
            setRecipe(file);
            go("get");
        } catch (e) {
            setProblems(problemsOf(e));
        } finally {
            setBusy("");
        }
    }

    return (
        <AskedFor.Provider value={{ who, onWho: (next) => void heldAnew(next) }}>
        <Shell route={route} title={doc?.title ?? taken?.title ?? ""}>
            {route === "recipe" ? (
                <Paste
                    text={text}
                    onText={setText}
                    onTaken={firstTaken}
                    onFile={(next, file) => {
                        setTaken(null);
                        open(next, file);
                        go("get");
                    }}
                />
            ) : null}
            {route === "read" && taken ? (
                <WithWorst of={taken.foretold}>
                <ReadBack
                    taken={taken}
                    busy={busy === "read"}
                    problems={problems}
                    onAnswer={(id, value) => void again({ ...said, answers: { ...said.answers, [id]: value } })}
                    onChange={(line, words) => void again({ ...said, changes: { ...said.changes, [line]: words } })}
                    onAgain={() => void again(said)}
                    onForesee={() => go("get")}
                    onPaste={() => go("recipe")}
                />
                </WithWorst>
            ) : null}
            {route === "get" && doc ? (
                <WithSources list={numbered(doc.sources ?? [], [...doc.cautions, ...(taken?.cautions ?? [])])}>
                    <WithWorst of={doc}>
                    <Bottle
                        doc={doc}
                        recipe={recipe}
                        deeds={deedsOf(taken)}
                        leftOut={leftOutOf(taken)}
                        outside={taken?.cautions ?? []}
                        allergens={taken?.allergens_left_out ?? ""}
                        isExplained={isExplained}
                        onExplained={() => setExplained(true)}
                        onWords={taken ? () => go("read") : null}
                        onMake={() => go("make")}
                    />
                    </WithWorst>
                </WithSources>
            ) : null}
            {route === "make" && written ? (
                <WithSources list={numbered(written.doc.sources ?? [], written.doc.cautions)}>
                    <Make
                        key={written.recipe}
                        doc={written.doc}
                        recipe={written.recipe}
                        work={work.current}
                        onWork={(w) => (work.current = w)}
                        staying={staying}
                        blanks={blanks}
                        onBlanks={setBlanks}
                        onForesee={(file) => void foresee(file)}
                    />
                    <Waiting on={busy === "get"}>Working out the whole bottle ...</Waiting>
                    <Problems problems={problems} onAgain={() => void foresee(asked.current)} />
                </WithSources>
            ) : null}
            {route === "mix" ? (
                <WithSources list={numbered(mixed?.sources ?? [], mixed?.cautions ?? [])}>
                    <WithWorst of={mixed}>
                    <Mix
                        text={mixText}
                        onText={setMixText}
                        measures={measures}
                        onMeasures={setMeasures}
                        mixed={mixed}
                        onMixed={setMixed}
                        onMake={() => {
                            if (!mixed?.recipe) return;
                            setTaken(null);
                            open(mixed, mixed.recipe);
                            go("make");
                        }}
                    />
                    </WithWorst>
                </WithSources>
            ) : null}
            {route === "bottle" ? <TestBottle foreseen={doc} kept={tested} /> : null}
        </Shell>
        </AskedFor.Provider>
    );
}

const root = document.getElementById("app");
if (root) {
    root.replaceChildren();
    render(<App />, root);
}
