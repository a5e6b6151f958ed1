// A way to keep the recipe: its file as text to copy, and as a file to save.

import { useEffect, useState } from "preact/hooks";

/** "Hedge plum and bay" as hedge_plum_and_bay.yaml */
export function fileName(title: string): string {
    const plain = title
        .normalize("NFKD")
        .replace(/\p{M}/gu, "")
        .replace(/[^A-Za-z0-9]+/g, "_")
        .replace(/^_+|_+$/g, "")
        .toLowerCase()
        .slice(0, 60);
    return `${plain || "recipe"}.yaml`;
}

export function Keep({ recipe, title }: { recipe: string; title: string }) {
    const [address, setAddress] = useState("");
    useEffect(() => {
        const made = URL.createObjectURL(new Blob([recipe], { type: "application/yaml" }));
        setAddress(made);
        return () => URL.revokeObjectURL(made);
    }, [recipe]);
    return (
        <details class="keep">
            <summary>Keep this recipe</summary>
            <p class="side">Nothing is kept here. Keep the file yourself; “stillroom foresee” reads it as well.</p>
            <label class="field-name" for="recipe-file">
                The recipe file
            </label>
            <textarea id="recipe-file" class="file" rows={12} readOnly value={recipe} spellcheck={false} />
            <a class="button quiet" href={address} download={fileName(title)}>
                Keep {fileName(title)}
            </a>
        </details>
    );
}
