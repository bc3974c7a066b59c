// Times the engine in wasm and the plain JavaScript beside it, turn by turn in one page, and leaves what it found in `window.found`.
import init, { Engine } from "./scantling_bench.js";
import { Decimal } from "./decimal.js";
import { pricer } from "./pricing.js";

const BRIEF = { scantling_brief: 1, design: "trestle-table" };
const TURNS = 15;

/** Microseconds a call, over enough calls to last a while. */
function time(call) {
    let calls = 1;
    for (;;) {
        const start = performance.now();
        for (let i = 0; i < calls; i += 1) call();
        const taken = performance.now() - start;
        if (taken > 60) return (1000 * taken) / calls;
        calls *= 2;
    }
}

const middle = times => [...times].sort((a, b) => a - b)[Math.floor(times.length / 2)];

try {
    await init({ module_or_path: new URL("scantling_bench_bg.wasm", import.meta.url) });
    const text = await (await fetch("/price-book.json")).text();
    Decimal.set({ precision: 28 });
    const engine = new Engine(text, JSON.stringify(BRIEF));
    const plain = pricer(Decimal, JSON.parse(text));
    const [ours, theirs] = [engine.price(), plain(BRIEF).join(" ")];
    if (ours !== theirs) throw new Error(`the engine says ${ours}, the plain page ${theirs}`);
    const wasm = [], script = [];
    for (let turn = 0; turn < TURNS; turn += 1) {
        wasm.push(time(() => engine.estimate()));
        script.push(time(() => plain(BRIEF)));
    }
    const times = (middle(script) / middle(wasm)).toFixed(1);
    window.found = { price: ours, wasm: middle(wasm).toFixed(1), script: middle(script).toFixed(1), times };
} catch (error) {
    window.found = { error: String(error) };
}
