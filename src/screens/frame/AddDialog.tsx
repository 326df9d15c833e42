import { createMemo, createSignal, For, Show } from 'solid-js';
import type { Line } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { ChoiceGrid } from '#parts/ChoiceGrid.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { lotWords, type Pack } from '#scan/packOf.ts';
import { say } from '#words/say.ts';
import { CameraButton } from '../CameraButton.tsx';
import { useCase, useSession } from '../useSession.ts';
import { createPackScan } from './createPackScan.ts';
import './shelf.css';
import { PackSteppers } from './PackSteppers.tsx';
import { SeenPacks } from './SeenPacks.tsx';
import { linesOfPack, piecesOf, scannedBefore } from './seenPacks.ts';

export type AddDialogProps = {
  /** The pack that was scanned, if one was. */
  readonly pack?: Pack | undefined;
  readonly onClose: () => void;
  /** It is on the table now. */
  readonly onAdded: (line: string) => void;
};

/** Something is opened onto the field: which line, what each pack held, seen by two people. */
export function AddDialog(props: AddDialogProps) {
  const { session } = useSession();
  const current = useCase();
  const adding = createAdding(props.pack);
  const { chosen, packs, seen } = adding;
  const isOdd = () => {
    const pack = chosen()?.pack;
    return pack !== undefined && packs().some((pieces) => pieces !== pack);
  };
  const add = async () => {
    const line = chosen();
    if (!line) return;
    const said = line.pack === undefined ? { n: packs()[0] ?? 1 } : { packs: packs() };
    const scanned = seen().length > 0 ? { scanned: seen().map(lotWords) } : {};
    const outcome = await session.send({ type: 'add', line: line.id, ...said, ...scanned });
    if (!outcome.ok) return;
    props.onClose();
    props.onAdded(line.id);
  };
  return (
    <Dialog
      isWide={chosen() === undefined}
      title={chosen() ? say`Add: ${chosen()?.name}` : say`Add to the field`}
      onClose={props.onClose}
      actions={
        <>
          <CameraButton />
          <Show when={chosen()}>
            <Show when={seen().length > 0}>
              <Button kind="plain" onPress={adding.chooseAgain}>
                {say`Another line`}
              </Button>
            </Show>
            <Button kind="primary" onPress={() => void add()}>
              {say`Both saw it: ${current().team.scrub} and ${current().team.circulator}`}
            </Button>
          </Show>
        </>
      }
    >
      <SeenPacks packs={seen()} said={adding.said()} isAsked={chosen() === undefined} />
      <Show when={chosen()} fallback={<Lines only={adding.only()} onChoose={adding.choose} />}>
        {(line) => (
          <>
            <PackSteppers line={line()} packs={packs()} onChange={adding.setPacks} />
            <Show when={isOdd()}>
              <p class="dialog-warning">
                {say`◆ A pack that does not hold ${line().pack} is set aside whole: out of the count, marked, and
                  kept in the room.`}
              </p>
            </Show>
          </>
        )}
      </Show>
    </Dialog>
  );
}

/** What is being added: the line, what each pack held, and the packs that were scanned for it. */
function createAdding(first: Pack | undefined) {
  const current = useCase();
  const known = first && linesOfPack(current(), first).lines;
  const [chosen, setChosen] = createSignal<Line | undefined>(
    known?.length === 1 ? known[0] : undefined,
  );
  const [only, setOnly] = createSignal<readonly Line[]>(known ?? []);
  const [seen, setSeen] = createSignal<readonly Pack[]>(first ? [first] : []);
  const [said, setSaid] = createSignal<string>();
  const [packs, setPacks] = createSignal<readonly number[]>(packsFor(chosen(), seen()));

  function choose(line: Line): void {
    setChosen(line);
    setPacks(packsFor(line, seen()));
  }

  /** Another pack while the sheet is open belongs to it, or waits. */
  function scan(pack: Pack): void {
    const again = scannedBefore(current(), seen(), pack);
    const { lines } = linesOfPack(current(), pack);
    const line = chosen();
    const isOther = line ? isOfOther(line, lines, seen(), pack) : seen().length > 0;
    setSaid(again ?? (isOther ? say`That is another item. Add this one first.` : undefined));
    if (again !== undefined || isOther) return;
    setSeen([...seen(), pack]);
    if (line) setPacks(oneMore(line, packs(), seen().length, pack));
    else if (lines[0] && lines.length === 1) choose(lines[0]);
    else setOnly(lines);
  }

  createPackScan(scan, setSaid);
  return {
    ...{ chosen, only, seen, said, packs, setPacks, choose },
    chooseAgain: () => {
      setChosen(undefined);
      setOnly([]);
    },
  };
}

/** Whether a pack is not of the line that is being added, as far as anybody knows. */
function isOfOther(line: Line, lines: readonly Line[], seen: readonly Pack[], pack: Pack): boolean {
  if (lines.length > 0) return !lines.some(({ id }) => id === line.id);
  return seen.length > 0 && seen[0]?.item !== pack.item;
}

function packsFor(line: Line | undefined, seen: readonly Pack[]): readonly number[] {
  if (!line) return [1];
  if (seen.length === 0) return [line.pack ?? 1];
  const pieces = seen.map((pack) => piecesOf(line, pack));
  return line.pack === undefined ? [pieces.reduce((sum, n) => sum + n, 0)] : pieces;
}

/** The first scan is of the pack that stands there already; each further one is a pack more. */
function oneMore(
  line: Line,
  packs: readonly number[],
  scans: number,
  pack: Pack,
): readonly number[] {
  if (scans === 1) return packsFor(line, [pack]);
  if (line.pack === undefined) return [(packs[0] ?? 0) + piecesOf(line, pack)];
  return packs.length >= scans ? packs : [...packs, line.pack];
}

/**
 * Every line that can be added, under its heading, and last what is not opened but comes of something else: a cut tail,
 * a fired reload. Or only those that a pack can be of.
 */
function Lines(props: { readonly only: readonly Line[]; readonly onChoose: (line: Line) => void }) {
  const current = useCase();
  const lines = createMemo(() =>
    props.only.length > 0 ? props.only : [...current().sheet.lines].filter((line) => line.counted),
  );
  const made = createMemo(() => madeOfOthers(current().sheet.lines));
  return (
    <div class="shelf">
      <For each={current().sheet.sections}>
        {(section) => (
          <SectionLines
            name={section.name}
            lines={lines().filter(({ id, section: own }) => own === section.id && !made().has(id))}
            onChoose={props.onChoose}
          />
        )}
      </For>
      <SectionLines
        name={say`Comes of something else`}
        lines={lines().filter(({ id }) => made().has(id))}
        onChoose={props.onChoose}
      />
    </div>
  );
}

/** Lines that a turn of another line or its pack gives. */
const madeOfOthers = (lines: readonly Line[]): ReadonlySet<string> =>
  new Set(
    lines.flatMap(({ id, turns, brings }) =>
      [...turns.flatMap(({ gives }) => gives), ...brings]
        .map(({ line }) => line)
        .filter((line) => line !== id),
    ),
  );

function SectionLines(props: {
  readonly name: string;
  readonly lines: readonly Line[];
  readonly onChoose: (line: Line) => void;
}) {
  return (
    <Show when={props.lines.length > 0}>
      <h3 class="dialog-part">{props.name}</h3>
      <ChoiceGrid
        label={props.name}
        choices={props.lines.map(({ id, name, pack, detail }) => ({
          id,
          name,
          detail: pack ? say`pack of ${pack}` : detail,
        }))}
        onChoose={(id) => {
          const line = props.lines.find((one) => one.id === id);
          if (line) props.onChoose(line);
        }}
      />
    </Show>
  );
}
