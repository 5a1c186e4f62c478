/** `npm run bench`: the machine's own time by the model, against eight published benchmarks. */
import { BENCHMARKS, benchmarkSeconds } from './benchmarks.js';

const rows = BENCHMARKS.map(({ name, seconds, lines }, index) => {
  const ours = benchmarkSeconds(lines);
  return { bench: `BM${index + 1} ${name}`, ours, published: seconds, ratio: ours / seconds };
});
for (const { bench, ours, published, ratio } of rows) {
  console.log(
    `${bench.padEnd(32)} ${ours.toFixed(1).padStart(6)} s   published ${published.toFixed(1).padStart(5)} s   ratio ${ratio.toFixed(2)}`,
  );
}
const mean = rows.reduce((sum, { ratio }) => sum + ratio, 0) / rows.length;
console.log(`mean ratio ${mean.toFixed(3)}`);
