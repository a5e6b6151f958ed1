// From a slider's event to the figures on the screen, in a browser: bench/slider.mjs ADDRESS [MOVES].  Median and 95th
// percentile in ms. ADDRESS is that of a running `stillroom serve`; the recipe is the sample of the first page.  One
// move at a time: the next one waits until the stems have been drawn for the last, so that each figure is one whole way
// (event, request, 1000 draws, answer, drawing).
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";

const [address = "http://127.0.0.1:8417/", wanted = "120"] = process.argv.slice(2);
const moves = Number(wanted);
const need = createRequire(fileURLToPath(new URL("../web/package.json", import.meta.url)));
const { chromium } = need("playwright-core");
const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: ["--no-sandbox"],
    headless: true,
});

// In the page: sets the slider, and tells how long until the frame after the stems changed.
function onePass({ share }) {
    const slider = document.querySelectorAll(".amount-line input[type=range]")[share.line];
    const stems = document.querySelector(".trio");
    const low = Number(slider.min);
    const high = Number(slider.max);
    return new Promise((done) => {
        let start = 0;
        let timer = 0;
        const watch = new MutationObserver(() => {
            watch.disconnect();
            clearTimeout(timer);
            requestAnimationFrame(() => {
                const channel = new MessageChannel(); // after this frame was painted
                channel.port1.onmessage = () => done(performance.now() - start);
                channel.port2.postMessage(0);
            });
        });
        watch.observe(stems, {
            subtree: true,
            childList: true,
            attributes: true,
            characterData: true,
            attributeFilter: ["transform", "aria-label"],
        });
        timer = setTimeout(() => {
            watch.disconnect();
            done(null); // nothing changed
        }, 2000);
        slider.value = String(low + (high - low) * share.at);
        start = performance.now();
        slider.dispatchEvent(new Event("input", { bubbles: true }));
    });
}

function quantile(sorted, q) {
    return sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))];
}

for (const [name, viewport] of [
    ["phone", { width: 390, height: 844 }],
    ["laptop", { width: 1440, height: 900 }],
]) {
    const page = await browser.newPage({ viewport });
    await page.goto(address);
    await page.getByRole("button", { name: "Use an invented sample" }).click();
    await page.getByRole("button", { name: "Read it" }).click();
    await page.getByRole("button", { name: "What will I get?" }).click();
    await page.getByRole("button", { name: "Make it ..." }).click();
    await page.locator(".amount-line input[type=range]").first().waitFor();
    await page.waitForTimeout(500);
    const took = [];
    for (let i = 0; i < moves; i++) {
        const ms = await page.evaluate(onePass, { share: { line: i % 2, at: 0.25 + 0.5 * ((i * 0.618) % 1) } });
        if (ms !== null && i >= 10) took.push(ms); // the first ten warm up
    }
    took.sort((a, b) => a - b);
    process.stdout.write(
        `${name}: ${took.length} moves, median ${quantile(took, 0.5).toFixed(1)} ms, p95 ${quantile(took, 0.95).toFixed(1)} ms, most ${took[took.length - 1].toFixed(1)} ms\n`,
    );
    await page.close();
}
await browser.close();
