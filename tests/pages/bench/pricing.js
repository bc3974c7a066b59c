// The same small pricing as the engine's, as a page might do it by itself: plain JavaScript with a decimal library. It prices a design of
// boards at the workshop, with its range; no checks, no delivery, no lead time. The bench holds its result to the engine's.

const SURFACED = { "4/4": "13/16", "5/4": "17/16", "6/4": "21/16", "7/4": "3/2", "8/4": "7/4", "10/4": "9/4", "12/4": "11/4" };

/** Prices with this decimal class; lengths are inches. */
export function pricer(Decimal, book) {
    const dec = text => new Decimal(text);
    const fraction = text => {
        const [top, bottom] = text.split("/");
        return bottom ? dec(top).div(bottom) : dec(top);
    };
    const inches = text => {
        const sign = text.startsWith("-") ? -1 : 1;
        const parts = text.replace("-", "").replace(" in", "").split(" ");
        return parts.reduce((sum, part) => sum.plus(fraction(part)), dec(0)).times(sign);
    };
    const measure = (written, sizes) => {
        if (typeof written === "string") return inches(written);
        const parts = Object.entries(written.of).map(([key, part]) => sizes[key].times(fraction(part)));
        return parts.reduce((sum, part) => sum.plus(part), inches(written.plus ?? "0 in"));
    };
    const copies = { "mirror-x": 2, "mirror-y": 2, "mirror-xy": 4 };
    const pert = ({ low, likely, high }) => {
        const mean = dec(low).plus(dec(likely).times(4)).plus(high).div(6);
        const variance = mean.minus(low).times(dec(high).minus(mean)).div(7);
        return { mean, deviation: variance.sqrt() };
    };
    const each = (points, change) => ({ low: change(points.low), likely: change(points.likely), high: change(points.high) });

    return brief => {
        const design = book.designs.find(design => design.key === brief.design);
        const sizes = Object.fromEntries(design.dimensions.map(d => [d.key, inches(brief.dimensions?.[d.key] ?? d.default)]));
        const timberOf = role => {
            const wanted = brief.materials?.[role] ?? design.roles.find(r => r.key === role).materials[0];
            return book.timbers.find(timber => timber.key === wanted);
        };
        const finish = brief.finish ? book.finishes.find(f => f.key === brief.finish) : book.finishes[0];
        const drivers = new Map();
        const drive = (key, amount, factor) => {
            const held = drivers.get(key) ?? { amount: dec(0), worked: dec(0) };
            drivers.set(key, { amount: held.amount.plus(amount), worked: held.worked.plus(dec(amount).times(factor)) });
        };
        const boards = new Map();
        let finished = dec(0), weight = dec(0);
        for (const part of design.parts) {
            const timber = timberOf(part.role), factor = dec(timber.work_factor), count = copies[part.copies] ?? 1;
            const [length, width, thickness] = ["length", "width", "thickness"].map(key => measure(part[key], sizes));
            const faces = part.finished ?? { faces: 2, edges: 2, ends: 2 }, shaped = part.shaped ?? { edges: 0, ends: 0 };
            const area = length.times(width).times(faces.faces).plus(length.times(thickness).times(faces.edges))
                .plus(width.times(thickness).times(faces.ends)).div(144).times(count);
            finished = finished.plus(area);
            drive("part", count, factor);
            drive("sanded-square-foot", area, factor);
            drive("edge-foot", length.times(shaped.edges).plus(width.times(shaped.ends)).div(12).times(count), factor);
            for (const joint of part.joints ?? []) drive(`joint ${joint.kind}`, joint.count * count, factor);
            const rough = length.plus(inches(book.allowances.length));
            let kind, layers = 0;
            while (!kind && layers < 4) {
                layers += 1;
                kind = Object.keys(timber.rates).filter(k => fraction(SURFACED[k]).gte(thickness.div(layers)))
                    .sort((a, b) => parseInt(a) - parseInt(b))[0];
            }
            const allowance = inches(book.allowances.width);
            const staves = Decimal.max(1, width.div(inches(timber.widest).minus(allowance)).ceil());
            const nominal = fraction(kind), wide = width.div(staves).plus(allowance);
            const net = nominal.times(wide).times(rough).div(144).times(staves).times(layers).times(count);
            const lines = staves.minus(1).times(layers).plus(layers - 1);
            drive("board-foot", net, factor);
            if (lines.gt(0)) drive("glue-foot", length.times(lines).div(12).times(count), factor);
            const over = (premium, size) => premium && size.gt(inches(premium.over)) ? dec(1).plus(premium.adds) : dec(1);
            const rate = dec(timber.rates[kind]).times(over(timber.length_premium, length)).times(over(timber.width_premium, width));
            const { low, likely, high } = timber.yields;
            const bought = { low: net.div(high), likely: net.div(likely), high: net.div(low) };
            const key = `${timber.key} ${kind}`;
            const held = boards.get(key) ?? { timber, kind, nominal, bought: each(bought, () => dec(0)), value: each(bought, () => dec(0)) };
            for (const point of ["low", "likely", "high"]) {
                held.bought[point] = held.bought[point].plus(bought[point]);
                held.value[point] = held.value[point].plus(bought[point].times(rate));
            }
            boards.set(key, held);
            // The handbook's weight at the shop's moisture.
            const basic = dec(timber.specific_gravity), moisture = dec(book.allowances.moisture);
            const dry = basic.div(dec(1).minus(dec("0.265").times(basic).times(dec(1).minus(moisture.div(30)))));
            const pounds = dec("62.43").times(dry).times(dec(1).plus(moisture.div(100)));
            weight = weight.plus(length.times(width).times(thickness).div(1728).times(pounds).times(count));
        }
        const lines = [], spreads = [];
        const species = new Map();
        for (const { timber, kind, nominal, bought, value } of boards.values()) {
            const tallied = timber.tally === "surface-measure" ? each(bought, feet => feet.div(nominal).toDP(12).ceil().times(nominal)) : bought;
            const all = {};
            for (const point of ["low", "likely", "high"]) {
                all[point] = value[point].plus(tallied[point].minus(bought[point]).times(timber.rates[kind]));
            }
            const guess = pert(all), held = species.get(timber.key) ?? { mean: dec(0), deviation: dec(0) };
            species.set(timber.key, { mean: held.mean.plus(guess.mean), deviation: held.deviation.plus(guess.deviation) });
        }
        for (const guess of species.values()) {
            lines.push(guess.mean);
            spreads.push(guess.deviation);
        }
        lines.push(finished.times(finish.coats).div(finish.coverage).times(dec(1).plus(finish.loss)).times(finish.rate));
        for (const used of design.hardware ?? []) {
            const item = book.hardware.find(item => item.key === used.item);
            weight = weight.plus(dec(item.weight).times(used.count));
            lines.push(dec(item.price).times(used.count));
            drive("hardware", used.count, 1);
        }
        drive(`coated ${finish.method}`, finished.times(finish.coats), 1);
        drive("pound", weight, 1);
        drive("piece", 1, 1);
        drive("job", 1, 1);
        const sundries = book.consumables.map(item => (drivers.get(item.driver)?.amount ?? dec(0)).times(item.rate));
        lines.push(sundries.reduce((sum, amount) => sum.plus(amount), dec(book.per_order)));
        const stages = new Map();
        for (const operation of book.operations) {
            const [[word, inner]] = typeof operation.driver === "string" ? [[operation.driver]] : Object.entries(operation.driver);
            const held = drivers.get(inner ? `${word} ${inner}` : word);
            if (!held) continue;
            const units = operation.by_timber ? held.worked : held.amount, run = pert(operation.each), once = pert(operation.set_up);
            const mean = run.mean.times(units).plus(once.mean), deviation = run.deviation.times(units).plus(once.deviation);
            const stage = stages.get(operation.stage) ?? { mean: dec(0), spreads: [] };
            stages.set(operation.stage, { mean: stage.mean.plus(mean), spreads: [...stage.spreads, deviation] });
        }
        let work = dec(0);
        const workSpreads = [];
        for (const stage of stages.values()) {
            lines.push(stage.mean);
            work = work.plus(stage.mean);
            workSpreads.push(...stage.spreads);
        }
        const sum = lines.reduce((sum, line) => sum.plus(line.toDP(2, Decimal.ROUND_HALF_UP)), dec(0));
        const correlation = dec(book.uncertainty.correlation);
        const variance = all => {
            const squares = all.reduce((sum, one) => sum.plus(one.times(one)), dec(0));
            const together = all.reduce((sum, one) => sum.plus(one), dec(0));
            return squares.times(dec(1).minus(correlation)).plus(together.times(together).times(correlation));
        };
        let apart = dec(0), shift = dec(0);
        if (book.past_jobs) {
            const usual = work.times(book.past_jobs.hours_take), missed = usual.times(book.past_jobs.miss_by);
            apart = Decimal.max(0, missed.times(missed).minus(variance(workSpreads)));
            shift = usual.minus(work);
        }
        const miss = variance([...spreads, ...workSpreads]).plus(apart).sqrt().times("1.28155");
        const step = dec(book.shop.rounding_step);
        const up = amount => amount.div(step).ceil().times(step), down = amount => amount.div(step).floor().times(step);
        return [down(sum.plus(shift).minus(miss)), up(sum), up(sum.plus(shift).plus(miss))].map(price => price.toFixed(2));
    };
}
