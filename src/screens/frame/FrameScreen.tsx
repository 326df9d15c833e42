import { createEffect, createMemo, createSignal, on, Show } from 'solid-js';
import { signOut } from '#engine/applies.ts';
import type { Case } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import type { Pack } from '#scan/packOf.ts';
import { say } from '#words/say.ts';
import { CaseShell } from '../CaseShell.tsx';
import { useCaseScans } from '../caseScans.ts';
import { nextGate } from '../gates.ts';
import { NextStep } from '../NextStep.tsx';
import { useCase, useCaseFields, useSession } from '../useSession.ts';
import { AddDialog } from './AddDialog.tsx';
import { createPackScan } from './createPackScan.ts';
import { InHand } from './InHand.tsx';
import { LineDialog } from './LineDialog.tsx';
import { MoreDialog } from './MoreDialog.tsx';
import { scannedBefore } from './seenPacks.ts';
import { Wires } from './Wires.tsx';
import { type Column, columnsOf } from './wires.ts';

/** What lies over the frame: nothing, or the sheet of one choice. */
type Open = 'add' | 'more' | 'loss' | 'line' | undefined;

/** The counting frame: every line a wire, every piece a bead, every place a stretch of it. */
export function FrameScreen() {
  const { session } = useSession();
  const current = useCase();
  const fields = useCaseFields();
  const [line, setLine] = createSignal<string>();
  const [open, setOpen] = createSignal<Open>();
  const [pack, setPack] = createSignal<Pack>();
  const scans = useCaseScans();
  createPackScan(
    (seen) => {
      const again = scannedBefore(current(), [], seen);
      if (again !== undefined) return scans.tell(again);
      setPack(seen);
      setOpen('add');
    },
    (sentence) => scans.tell(sentence),
    () => open() === undefined,
  );
  const close = () => {
    setOpen(undefined);
    setPack(undefined);
  };
  // Everything is closed: nothing more is opened, and what was lost is measured.
  const isLeaving = createMemo(() => nextGate(fields()) === signOut);
  const columns = createMemo(() => columnsOf(fields()), undefined, { equals: sameColumns });
  // The key that was tapped for these lies elsewhere, so that no wire moves under a finger.
  createEffect(
    on(
      () => fields().log?.type,
      (last) => {
        if (last === 'incised') bringInSight('.wire-group[data-sets="yes"]');
        if (last === 'closed') bringInSight('.wire-group:has([data-marked="yes"])');
      },
    ),
  );
  return (
    <CaseShell
      name={say`Counting frame`}
      fits
      hand={
        <Show when={line()} keyed>
          {(id) => <InHand line={id} onMore={() => setOpen('line')} />}
        </Show>
      }
      actions={
        <>
          <Show
            when={isLeaving()}
            fallback={
              <Button kind="plain" onPress={() => setOpen('add')}>
                {say`Add to field`}
              </Button>
            }
          >
            <Button kind="plain" onPress={() => setOpen('loss')}>
              {say`Blood and fluids`}
            </Button>
          </Show>
          <Button
            kind="plain"
            onPress={() => session.show({ name: 'specimen', about: specimenNext(current()) })}
          >
            {say`Specimen`}
          </Button>
          <Button kind="plain" onPress={() => setOpen('more')}>
            {say`More…`}
          </Button>
          <NextStep />
        </>
      }
    >
      <Wires columns={columns()} selected={line()} onSelect={setLine} />
      <Show when={open() === 'line' && line()} keyed>
        {(id) => <LineDialog line={id} onClose={() => setOpen(undefined)} />}
      </Show>
      <Show when={open() === 'add'}>
        <AddDialog
          pack={pack()}
          onClose={close}
          onAdded={(line) => bringLineInSight(current(), line)}
        />
      </Show>
      <Show when={open() === 'more' || open() === 'loss'}>
        <MoreDialog
          part={open() === 'loss' ? 'loss' : undefined}
          onAdd={isLeaving() ? () => setOpen('add') : undefined}
          onClose={close}
        />
      </Show>
    </CaseShell>
  );
}

/** The specimen that is on its way; the first one where all have arrived. */
function specimenNext(current: Case): string {
  const all = Object.values(current.specimens);
  const next = all.find((one) => one.stage !== 'handedOver' && one.stage !== 'notTaken');
  return next?.id ?? all[0]?.id ?? 'none';
}

const sameColumns = (one: readonly Column[], other: readonly Column[]): boolean =>
  one.map((column) => column.label).join() === other.map((column) => column.label).join();

/**
 * What was opened is used next: its section begins at the top, where it is in sight then, with what it becomes below.
 * The dialog has gone, so that no finger is on the frame.
 */
function bringLineInSight(current: Case, id: string): void {
  const wires = [...document.querySelectorAll('.wire')];
  const wireOf = (line: string | undefined) =>
    wires.find((one) => one.getAttribute('data-line') === line);
  const groupOf = (wire: Element | undefined) => wire?.closest('.wire-group') ?? wire;
  const { lines } = current.sheet;
  const section = lines.find((line) => line.id === id)?.section;
  const first = lines.find((line) => line.section === section && wireOf(line.id) !== undefined);
  groupOf(wireOf(first?.id))?.scrollIntoView({ block: 'start' });
  groupOf(wireOf(id))?.scrollIntoView({ block: 'nearest' });
  wireOf(id)?.scrollIntoView({ block: 'nearest' });
}

/** What goes in together stands on top after the incision, and what must come out after a closure. */
function bringInSight(group: string): void {
  document.querySelector(group)?.scrollIntoView({ block: 'start' });
}
