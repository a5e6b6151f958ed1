// Runs a wasm32-wasi program as ctest's emulator: node run-wasi.mjs PROGRAM.wasm ARGUMENT...
// The program sees the project's folder and the current one, and nothing else.
import { readFile } from 'node:fs/promises';
import { spawnSync } from 'node:child_process';
import { dirname, resolve } from 'node:path';
import { argv, cwd, env, execPath, exit, stderr } from 'node:process';
import { fileURLToPath } from 'node:url';

process.removeAllListeners('warning'); // node calls WASI experimental on each run

const self = fileURLToPath(import.meta.url);
const flag = '--experimental-wasi-unstable-preview1'; // node before 20 asks for it

let wasiModule;
try {
    wasiModule = await import('node:wasi');
} catch {
    if (process.execArgv.includes(flag)) {
        stderr.write('run-wasi: this node has no WASI; version 18 or newer has\n');
        exit(3);
    }
    const again = spawnSync(execPath, [flag, '--no-warnings', self, ...argv.slice(2)], { stdio: 'inherit' });
    exit(again.status ?? 3);
}

const program = argv[2];
if (!program) {
    stderr.write('usage: node run-wasi.mjs PROGRAM.wasm ARGUMENT...\n');
    exit(2);
}
const top = resolve(dirname(self), '..');
const wasi = new wasiModule.WASI({
    version: 'preview1',
    args: [program, ...argv.slice(3)],
    env,
    preopens: { [top]: top, '.': cwd() },
    returnOnExit: true,
});
const module = await WebAssembly.compile(await readFile(program));
const instance = await WebAssembly.instantiate(module, { wasi_snapshot_preview1: wasi.wasiImport });
process.exitCode = wasi.start(instance);
