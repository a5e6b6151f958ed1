// Is a pasted text a recipe file that was kept, and not a recipe in words?

/** It begins with its version, or has steps that begin with what is done. */
export function isRecipeFile(text: string): boolean {
    const said = text.replace(/^\uFEFF/, "").replace(/^(\s*(#.*)?\r?\n)+/, "");
    if (/^\s*(---\s*\r?\n\s*)?schema_version\s*:/.test(said)) return true;
    return (
        /^steps\s*:\s*$/m.test(said) &&
        /^\s*-\s*(toast|steep|syrup|blend|rest|rack|fine|filter|bottle)\s*:/m.test(said)
    );
}
