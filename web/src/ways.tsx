// What an aim came to: met or stopped, and by what; ways round it; kitchen amounts and what each costs in certainty.

import type { Aimed, Wish } from "./api.js";
import { jointCount } from "./blank.js";
import { cap, CautionBox } from "./parts.js";

function of20(joint: number): number {
    return Math.round(joint * 20);
}

/** "as sure as exact amounts", "costs 3 of 20 makings" */
export function costWords(joint: number | null | undefined, exact: number | null): string {
    if (joint === null || joint === undefined || exact === null) return "";
    const less = of20(exact) - of20(joint);
    if (less > 0) return `costs ${less} of 20 makings`;
    return less < 0 ? `gains ${-less} of 20 makings` : "as sure as exact amounts";
}

/** Amounts meet a wish as they are reckoned; how many makings of them do is said in the same breath. */
export function metWords(aimed: Pick<Aimed, "joint">, wish: Wish | null): string {
    const count = jointCount(aimed.joint, wish);
    if (!count) return "Amounts that meet your wish";
    return `${aimed.joint! < 0.5 ? "Nearest to your wish" : "Amounts that meet your wish"}: ${count}`;
}

/** What stops a wish, without what would hardly help if it gave way. */
export function stopWords(stops: Aimed["stopped_by"]): string {
    return stops
        .filter((s, i) => i === 0 || s.closes >= 0.02)
        .map((s) => s.what)
        .join(" and ");
}

/** "Take vodka of 60 % vol: gives 28 % vol, 180 g/L of sugar" */
export function wayWords({ text, gives }: { text: string; gives?: string }): string {
    return gives ? `${text}: gives ${gives}` : text;
}

export interface WaysProps {
    aimed: Aimed;
    wish: Wish | null;
    onRecipe: (recipe: string, said: string) => void;
    onAmounts: (amounts: Aimed["amounts"], said: string) => void;
}

/** That a wish cannot be had, by what, and ways round it: told before the amounts. */
export function Stopped({ aimed, wish, onRecipe }: Omit<WaysProps, "onAmounts">) {
    return (
        <section class="stopped" aria-labelledby="stopped">
            <h2 tabIndex={-1} id="stopped">
                {aimed.stopped_by.length > 0
                    ? `This wish is stopped by ${stopWords(aimed.stopped_by)}.`
                    : "This wish is not met."}
            </h2>
            <p>
                {aimed.nearest ? `The nearest is ${aimed.nearest}, as drawn` : "The nearest is drawn"}
                {aimed.joint === null ? "." : `: ${jointCount(aimed.joint, wish)}.`}{" "}
                {aimed.because ? `${cap(aimed.because)}.` : ""}
            </p>
            {aimed.gave_way ? <p>{`What gives way: ${aimed.gave_way}.`}</p> : null}
            <div class="row">
                {aimed.ways.map((w) => (
                    <div>
                        {w.recipe ? (
                            <button type="button" class="quiet" onClick={() => onRecipe(w.recipe!, w.text)}>
                                {wayWords(w)}
                            </button>
                        ) : (
                            <p>{wayWords(w)}</p>
                        )}
                        {w.gave_way ? <p class="side">{cap(w.gave_way)}.</p> : null}
                    </div>
                ))}
            </div>
        </section>
    );
}

function Changes({ aimed }: { aimed: Aimed }) {
    const moved = aimed.amounts.filter((a) => a.text_before !== a.text_after);
    if (moved.length === 0) return <p class="side">Nothing had to change.</p>;
    return (
        <ul class="lines changes">
            {moved.map((a) => (
                <li>
                    <b>{a.text_after}</b>
                    <span>{a.name}</span> <i class="soft">was {a.text_before}</i>
                    {(a.cautions ?? []).map((c) => (
                        <CautionBox caution={c} />
                    ))}
                </li>
            ))}
        </ul>
    );
}

function Kitchen({ aimed, wish, onRecipe, onAmounts }: WaysProps) {
    return (
        <section aria-labelledby="kitchen">
            <h2 tabIndex={-1} id="kitchen">
                In kitchen amounts
            </h2>
            <ul class="lines kitchen">
                {(aimed.alternatives ?? []).slice(0, 4).map((a) => (
                    <li>
                        <p>
                            <b>{cap(a.text)}</b>
                            <span>{a.amounts.map((x) => `${x.text_after} ${x.name}`).join(", ")}</span>
                            <span class="soft">
                                {[jointCount(a.joint, wish), costWords(a.joint, aimed.joint)]
                                    .filter(Boolean)
                                    .join("; ")}
                            </span>
                        </p>
                        <button
                            type="button"
                            class="text"
                            aria-label={`take these: ${a.text}`}
                            onClick={() => (a.recipe ? onRecipe(a.recipe, a.text) : onAmounts(a.amounts, a.text))}
                        >
                            take these
                        </button>
                    </li>
                ))}
            </ul>
        </section>
    );
}

export function Ways(p: WaysProps) {
    const { aimed, wish } = p;
    if (!aimed.met && !aimed.alternatives) return null;
    return (
        <div class="ways">
            {aimed.met ? (
                <section aria-labelledby="found">
                    <h2 tabIndex={-1} id="found">
                        {metWords(aimed, wish)}
                    </h2>
                    {aimed.gave_way ? <p class="side">{`What gives way: ${aimed.gave_way}.`}</p> : null}
                    <Changes aimed={aimed} />
                </section>
            ) : null}
            {aimed.alternatives && aimed.alternatives.length > 0 ? <Kitchen {...p} /> : null}
            {aimed.alternatives?.length === 0 ? (
                <p class="side">No other tool of the kitchen would make these amounts surer.</p>
            ) : null}
        </div>
    );
}
