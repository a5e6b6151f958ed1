// The wish as a sentence with blanks to fill.

import { useState } from "preact/hooks";
import type { Problem } from "./api.js";
import type { BlankName, Blanks } from "./blank.js";
import { together } from "./blank.js";
import { Problems } from "./parts.js";

interface WordProps {
    name: BlankName;
    label: string;
    blanks: Blanks;
    size: number;
    hint: string;
    isWrong: boolean;
    onSet: (name: BlankName, text: string) => void;
}

function Word({ name, label, blanks, size, hint, isWrong, onSet }: WordProps) {
    const [writing, setWriting] = useState<string | null>(null);
    const text = writing ?? blanks[name];
    const done = () => {
        if (writing !== null) onSet(name, writing);
        setWriting(null);
    };
    return (
        <span class="blank">
            <input
                id={`wish-${name}`}
                aria-label={label}
                aria-describedby="wish-hint"
                aria-invalid={isWrong}
                autocomplete="off"
                size={Math.max(size, text.length)}
                placeholder={hint}
                value={text}
                onInput={(e) => setWriting(e.currentTarget.value)}
                onBlur={done}
                onKeyDown={(e) => {
                    if (e.key === "Enter") done();
                    if (e.key === "Escape") setWriting(null);
                }}
            />
        </span>
    );
}

export interface WishLineProps {
    blanks: Blanks;
    currency: string;
    problems: Problem[];
    onSet: (name: BlankName, text: string) => void;
}

export function WishLine({ blanks, currency, problems, onSet }: WishLineProps) {
    const [more, setMore] = useState(blanks.acid !== "" || blanks.cost !== "");
    const word = (name: BlankName, label: string, size: number, hint: string) => (
        <Word
            name={name}
            label={label}
            blanks={blanks}
            size={size}
            hint={hint}
            isWrong={problems.some((q) => q.file === name)}
            onSet={onSet}
        />
    );
    return (
        <section class="wish-line" aria-label="Your wish">
            <p class="sentence">
                Make it {word("strength", "Strength wished, % vol", 8, "any")} %&#8239;vol, with{" "}
                {word("sugar", "Sugar wished, g/L", 9, "any")} g/L of sugar, enough for{" "}
                {word("bottles", "Bottles wished", 3, "any")} bottles of{" "}
                <span class="together">
                    {word("size", "Size of a bottle", 6, "500 mL")}
                    {more ? "," : "."}
                </span>{" "}
                {more ? (
                    <>
                        with {word("acid", "Acid wished, g/L", 7, "any")} g/L of acid, for{" "}
                        <span class="together">
                            {word("cost", "Cost wished", 10, "any")}
                            {currency ? ` ${currency}.` : "."}
                        </span>
                    </>
                ) : null}{" "}
                {more ? null : (
                    <button type="button" class="text" onClick={() => setMore(true)}>
                        wish for more ...
                    </button>
                )}
            </p>
            <p class="side" id="wish-hint">
                Fill in what you wish for: “22 to 24”, “at least 2”, “at most 150”, “a fifth less” than the recipe has. Bottles are full, and at most a tenth
                over. An empty blank is left open.
            </p>
            <Problems problems={together(problems)} />
        </section>
    );
}
