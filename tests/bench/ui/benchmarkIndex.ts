/**
 * How fast the processor looks from inside a page, as the number that browser tools call a benchmark index. Higher is
 * faster. From memory of the method: a tenth of how often a string of 10,000 letters is put together in a second, and
 * the same for copying 100,000 numbers; the mean of the two.
 *
 * Runs in the page. Takes about a second.
 */
export function benchmarkIndex(): number {
  const often = (work: () => void): number => {
    const start = performance.now();
    let times = 0;
    while (performance.now() - start < 500) {
      work();
      times += 1;
    }
    return (times / (performance.now() - start)) * 100;
  };
  const letters = () => {
    let text = '';
    for (let i = 0; i < 10_000; i += 1) text += 'a';
    if (text.length === 1) throw new Error('never: so that the work is not left out');
  };
  let from = Array.from({ length: 100_000 }, (_, i) => i);
  let to = [...from];
  const copies = () => {
    for (let i = 0; i < from.length; i += 1) to[i] = from[i] ?? 0;
    [from, to] = [to, from];
  };
  return (often(letters) + often(copies)) / 2;
}
