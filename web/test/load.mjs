// A TypeScript module of src/ for node's tests: bundled by esbuild in memory.
import { build } from "esbuild";
import { fileURLToPath } from "node:url";

export async function load(name) {
    const out = await build({
        entryPoints: [fileURLToPath(new URL(`../src/${name}`, import.meta.url))],
        bundle: true,
        write: false,
        format: "esm",
        platform: "neutral",
        jsx: "automatic",
        jsxImportSource: "preact",
        mainFields: ["module", "main"],
    });
    return import(`data:text/javascript;base64,${Buffer.from(out.outputFiles[0].text).toString("base64")}`);
}
