// Bundle the pages: build.mjs [--out DIR].  Writes index.html, app.js, app.css and the fonts; the program embeds the folder.
import { build } from "esbuild";
import { copyFile, mkdir, readdir, rm } from "node:fs/promises";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { fileURLToPath } from "node:url";

const here = fileURLToPath(new URL(".", import.meta.url));
const { values } = parseArgs({ options: { out: { type: "string", default: join(here, "../build/web") } } });
const out = values.out;

await rm(out, { recursive: true, force: true });
await mkdir(out, { recursive: true });
await build({
    absWorkingDir: here,
    entryPoints: { app: "src/main.tsx" },
    bundle: true,
    format: "esm",
    target: ["es2021"],
    minify: true,
    jsx: "automatic",
    jsxImportSource: "preact",
    legalComments: "eof",
    outdir: out,
    logLevel: "warning",
});
await build({
    absWorkingDir: here,
    entryPoints: { app: "src/app.css" },
    bundle: true,
    minify: true,
    external: ["*.woff2"],
    outdir: out,
    logLevel: "warning",
});
for (const name of ["index.html", "mark.svg"]) await copyFile(join(here, "src", name), join(out, name));
for (const name of await readdir(join(here, "fonts")))
    if (name.endsWith(".woff2") || name === "OFL.txt") await copyFile(join(here, "fonts", name), join(out, name));
