import { accept, type Decision, refuse } from '../decision.ts';
import { transfer } from '../ledger.ts';
import type { Case } from '../state.ts';
import type { ChangeVariant, VariantChanged } from './events.ts';

/**
 * Another way of doing the operation. What it opens is on the table at once, not counted in: `baseline-open`
 * holds every closure until it is.
 *
 * Refuses, first match wins: unknown-variant, already-done.
 * Rules: L13, X11.
 */
export function decideVariant(current: Case, command: ChangeVariant): Decision<VariantChanged> {
  const variant = current.sheet.variants.find((known) => known.id === command.to);
  if (!variant) return refuse('unknown-variant', command.to);
  const from = current.variants[variant.group] ?? '';
  if (from === variant.id) return refuse('already-done', variant.name);
  const opened = current.counts.first === 'open' ? {} : variant.opens;
  const postings = Object.entries(opened).flatMap(([line, n]) =>
    transfer(line, 'supply', 'table', n),
  );
  return accept<VariantChanged>({
    type: 'variantChanged',
    group: variant.group,
    from,
    to: variant.id,
    opened,
    postings,
  });
}
