import type { OpenCase } from '#engine/case/events.ts';
import type { Signature } from '#engine/decision.ts';
import type { Case } from '#engine/state.ts';
import { say } from '#words/say.ts';
import { type Core, saveFirst } from './core.ts';
import type { Prepared } from './practising.ts';
import type { Outcome, Recorder } from './recorder.ts';
import type { View } from './route.ts';

/** The opening of a case: one at a time, however often it is asked for, and offered again if not saved. */
export type Opening = {
  /** Does what leads to an opening, unless another is on its way. Refuses: not-now. */
  readonly once: (job: () => Promise<Outcome>) => Promise<Outcome>;
  readonly begin: (
    command: Omit<OpenCase, 'type'>,
    signed: readonly Signature[],
    /** What a practice enters before the person begins. */
    prepared?: readonly Prepared[],
  ) => Promise<Outcome>;
  /** Offers what was not saved again, and goes to the case that was opened by it. */
  readonly retry: () => Promise<Outcome>;
  /** The form was left: an opening that was not saved is given up. */
  readonly leave: () => void;
};

/** Keeps track of the case that is being opened. */
export function createOpening(core: Core, recorder: Recorder): Opening {
  const { ports, state, goTo } = core;
  let isBeginning = false;
  let unopened: string | undefined;

  async function arrive(caseId: string): Promise<void> {
    unopened = undefined;
    await ports.writer.claim(caseId);
    goTo({ screen: 'case', caseId, view: firstView(state().current) });
  }

  async function once(job: () => Promise<Outcome>): Promise<Outcome> {
    const isUnsaved = state().notSaved !== undefined;
    if (isBeginning || isUnsaved) {
      const sentence = isUnsaved ? saveFirst : say`The case is being opened.`;
      return { ok: false, failure: { code: 'not-now', sentence } };
    }
    isBeginning = true;
    try {
      return await job();
    } finally {
      isBeginning = false;
    }
  }

  return {
    once,
    begin: async (command, signed, prepared = []) => {
      const outcome = await recorder.begin(command, signed);
      if (outcome.ok) {
        for (const one of prepared) await recorder.send(one.command, one.by);
        await arrive(command.caseId);
      } else if (state().notSaved !== undefined) unopened ??= command.caseId;
      return outcome;
    },
    retry: async () => {
      const outcome = await recorder.retry();
      if (outcome.ok && unopened !== undefined) await arrive(unopened);
      return outcome;
    },
    leave: () => {
      if (unopened !== undefined && state().notSaved !== undefined) recorder.forget();
      unopened = undefined;
    },
  };
}

/** Where a case that was just opened begins: its first checkpoint. */
function firstView(current: Case | undefined): View {
  const first = current?.sheet.checkpoints[0];
  if (current?.incisionAt !== undefined) return { name: 'frame' }; // a practice that is under way
  return first ? { name: 'checkpoint', about: first.id } : { name: 'frame' };
}
