// What could not be read of lines that were typed: each with its words, what is wrong, what to try, and a way to it.

import type { Problem } from "./api.js";
import { cap, forPeople } from "./parts.js";

export interface LineProblemsProps {
    problems: Problem[]; // each of a line
    words: (line: number) => string; // as they were typed
    onChange: (line: number) => void;
}

/** Problems of one line stand together, in the order of the lines. */
export function byProblemLine(problems: Problem[]): { line: number; problems: Problem[] }[] {
    const lines = [...new Set(problems.map((p) => p.line ?? 0))].sort((a, b) => a - b);
    return lines.map((line) => ({ line, problems: problems.filter((p) => (p.line ?? 0) === line) }));
}

export function LineProblems({ problems, words, onChange }: LineProblemsProps) {
    if (problems.length === 0) return null;
    const all = byProblemLine(problems);
    return (
        <div class="problems of-lines" role="alert">
            <p>
                <b>
                    {all.length === 1 ? "One line was" : `${all.length} lines were`} not understood. Nothing that you
                    typed is lost.
                </b>
            </p>
            <ul>
                {all.map(({ line, problems: mine }) => (
                    <li key={line}>
                        <p class="their-words">{words(line)}</p>
                        {mine.map(forPeople).map((p) => (
                            <p>
                                {cap(p.what)}. {p.why ? `${cap(p.why)}.` : ""}{" "}
                                {p.try ? <b class="try">Try this: {p.try}.</b> : null}
                            </p>
                        ))}
                        <button
                            type="button"
                            class="text"
                            aria-label={`change this line: ${words(line)}`}
                            onClick={() => onChange(line)}
                        >
                            change this line
                        </button>
                    </li>
                ))}
            </ul>
        </div>
    );
}
