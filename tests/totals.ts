/** How many tests passed and failed, read from what the test programs report. */
export type Totals = { readonly passed: number; readonly failed: number };

/** A program that ended badly without naming a failed test still counts as one failure. */
export function ended(status: number, totals: Totals | undefined): Totals {
  if (totals === undefined) return { passed: 0, failed: 1 };
  return status !== 0 && totals.failed === 0 ? { ...totals, failed: 1 } : totals;
}

/** From vitest's JSON report. */
export function totalsOfVitest(report: unknown): Totals | undefined {
  const passed = numberAt(report, 'numPassedTests');
  const failed = numberAt(report, 'numFailedTests');
  return passed === undefined || failed === undefined ? undefined : { passed, failed };
}

/** From Playwright's JSON report. A test that passed only when tried again has failed. */
export function totalsOfPlaywright(report: unknown): Totals | undefined {
  const stats = fieldAt(report, 'stats');
  const passed = numberAt(stats, 'expected');
  const failed = numberAt(stats, 'unexpected');
  const flaky = numberAt(stats, 'flaky');
  if (passed === undefined || failed === undefined || flaky === undefined) return undefined;
  return { passed, failed: failed + flaky };
}

/** From the last line of the drill runner that reads `N passed, N failed`. */
export function totalsOfDrills(said: string): Totals | undefined {
  const last = [...said.matchAll(/^(\d+) passed, (\d+) failed$/gm)].at(-1);
  return last && { passed: Number(last[1]), failed: Number(last[2]) };
}

function fieldAt(value: unknown, name: string): unknown {
  if (typeof value !== 'object' || value === null) return undefined;
  return new Map<string, unknown>(Object.entries(value)).get(name);
}

function numberAt(value: unknown, name: string): number | undefined {
  const found = fieldAt(value, name);
  return typeof found === 'number' ? found : undefined;
}
