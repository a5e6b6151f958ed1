// The first page: paste the text you have.

import { useContext, useState } from "preact/hooks";
import type { Foretold, Problem, Taken } from "./api.js";
import { post } from "./api.js";
import { Problems, problemsOf, Waiting } from "./parts.js";
import { AskedFor, whoBody } from "./who.js";
import { isRecipeFile } from "./recipe_file.js";

/** Invented for the stillroom book of the Quillmere orchard house, which does not exist. */
export const SAMPLE = `Hedge plum and bay

1½ lb damsons, pricked
½ lb sugar, less if you like
a bottle of vodka
3 bay leaves
a strip of lemon rind

Put all of it into a big jar and leave for 6 weeks or so, turning it once a week.
Strain through muslin and bottle in half-litre bottles. Keep for 3 months.`;

export function Paste({
    text,
    onText,
    onTaken,
    onFile,
}: {
    text: string;
    onText: (t: string) => void;
    onTaken: (t: Taken) => void;
    onFile: (doc: Foretold, file: string) => void; // a recipe file that was kept
}) {
    const [problems, setProblems] = useState<Problem[]>([]);
    const [busy, setBusy] = useState(false);
    const { who } = useContext(AskedFor);

    async function read() {
        if (!text.trim()) {
            setProblems([
                { what: "There is nothing to read yet", try: "paste a recipe into the box, or use the sample" },
            ]);
            document.getElementById("words")?.focus();
            return;
        }
        setBusy(true);
        try {
            if (isRecipeFile(text)) onFile(await post<Foretold>("/api/foresee", { recipe: text, ...whoBody(who) }), text);
            else onTaken(await post<Taken>("/api/take", { text, ...whoBody(who) }));
            setProblems([]);
        } catch (x) {
            setProblems(problemsOf(x));
        } finally {
            setBusy(false);
        }
    }

    return (
        <form
            class="page paste"
            onSubmit={(e) => {
                e.preventDefault();
                void read();
            }}
        >
            <h1 tabIndex={-1}>What will be in the bottle?</h1>
            <p class="soft">
                Paste a recipe as you have it: a list, a page, a few words, or a recipe file that you kept. The reading
                is shown beside it, to be put right.
            </p>
            <label class="field-name" for="words">
                Your recipe
            </label>
            <textarea
                id="words"
                rows={14}
                value={text}
                spellcheck={false}
                aria-describedby="paste-problems"
                placeholder={"600 g damsons\n700 mL vodka 40 %\n200 g sugar\nLeave for two months, strain, bottle."}
                onInput={(e) => onText(e.currentTarget.value)}
            />
            <Problems problems={problems} id="paste-problems" onAgain={() => void read()} />
            <Waiting on={busy}>Reading your words ...</Waiting>
            <p>
                No recipe at hand?{" "}
                <button type="button" class="text" onClick={() => onText(SAMPLE)}>
                    Use an invented sample
                </button>
            </p>
            <p>
                Already in the jar, or bottled?{" "}
                <a class="text" href="#bottle">
                    Test my bottle
                </a>
            </p>
            <p class="side ruled">Nothing leaves this machine, and nothing is kept once the page is closed or loaded anew: keep the recipe
                file yourself. Only where you live, how much is poured and for whom is remembered in this browser, if you say it.</p>
            <div class="foot-bar">
                <button type="submit" class="main" disabled={busy}>
                    Read it
                </button>
            </div>
        </form>
    );
}
