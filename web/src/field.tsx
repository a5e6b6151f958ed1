// A line of a form: what it is, a blank, and what is wrong with it.

import type { Problem } from "./api.js";
import { Problems } from "./parts.js";

export interface FieldProps {
    name: string;
    label: string;
    side: string;
    value: string;
    problems: Problem[];
    onInput: (value: string) => void;
}

export function Field({ name, label, side, value, problems, onInput }: FieldProps) {
    const mine = problems.filter((p) => p.file === name);
    const id = `field-${name}`;
    return (
        <div class="field">
            <label for={id}>
                <b>{label}</b>
                <span class="soft">{side}</span>
            </label>
            <span class="blank">
                <input
                    id={id}
                    name={name}
                    inputMode="decimal"
                    autocomplete="off"
                    size={7}
                    value={value}
                    aria-invalid={mine.length > 0}
                    {...(mine.length > 0 ? { "aria-describedby": `${id}-wrong` } : {})}
                    onInput={(e) => onInput(e.currentTarget.value)}
                />
            </span>
            <Problems problems={mine} id={`${id}-wrong`} />
        </div>
    );
}
