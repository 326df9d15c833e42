import { createSignal, Match, Show, Switch } from 'solid-js';
import type { Line } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { lotWords, type Pack } from '#scan/packOf.ts';
import { say } from '#words/say.ts';
import { CameraButton } from '../CameraButton.tsx';
import { useCase, useSession } from '../useSession.ts';
import { createPackScan } from './createPackScan.ts';
import { PackSteppers } from './PackSteppers.tsx';
import { SeenPacks } from './SeenPacks.tsx';
import { SetSteppers } from './SetSteppers.tsx';
import { Shelf } from './Shelf.tsx';
import { linesOfPack, piecesOf, scannedBefore } from './seenPacks.ts';
import type { SetOfLines } from './shelf.ts';

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
  const { chosen, set, packs, seen } = adding;
  const isOdd = () => {
    const pack = chosen()?.pack;
    return pack !== undefined && packs().some((pieces) => pieces !== pack);
  };
  const addLine = async (line: Line) => {
    const said = line.pack === undefined ? { n: packs()[0] ?? 1 } : { packs: packs() };
    const scanned = seen().length > 0 ? { scanned: seen().map(lotWords) } : {};
    const outcome = await session.send({ type: 'add', line: line.id, ...said, ...scanned });
    return outcome.ok;
  };
  const addSet = async () => {
    for (const [line, n] of adding.parts()) {
      if (n === 0) continue;
      if (!(await session.send({ type: 'add', line, n })).ok) return false;
      adding.setPart(line, 0); // entered: whoever tries again does not enter it twice
    }
    return true;
  };
  const add = async () => {
    const line = chosen();
    if (!(await (line ? addLine(line) : addSet()))) return;
    props.onClose();
    props.onAdded(line?.id ?? set()?.lines[0]?.id ?? '');
  };
  const isChosen = () => chosen() !== undefined || set() !== undefined;
  return (
    <Dialog
      isWide={!isChosen()}
      title={isChosen() ? say`Add: ${chosen()?.name ?? set()?.name}` : say`Add to the field`}
      onClose={props.onClose}
      actions={
        <>
          <CameraButton />
          <Show when={isChosen()}>
            <Show when={seen().length > 0}>
              <Button kind="plain" onPress={adding.chooseAgain}>
                {say`Another line`}
              </Button>
            </Show>
            <Button
              kind="primary"
              whyNot={adding.isNone() ? say`Say how many of a part were opened.` : undefined}
              onPress={() => void add()}
            >
              {say`Both saw it: ${current().team.scrub} and ${current().team.circulator}`}
            </Button>
          </Show>
        </>
      }
    >
      <SeenPacks packs={seen()} said={adding.said()} isAsked={!isChosen()} />
      <Switch
        fallback={
          <Shelf
            only={adding.only()}
            hasSets={seen().length === 0}
            onChoose={adding.choose}
            onChooseSet={adding.chooseSet}
          />
        }
      >
        <Match when={chosen()}>
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
        </Match>
        <Match when={set()}>
          {(known) => (
            <SetSteppers set={known()} parts={adding.parts()} onChange={adding.setPart} />
          )}
        </Match>
      </Switch>
    </Dialog>
  );
}

/** What is being added: the line or set, what each pack held, and the packs that were scanned for it. */
function createAdding(first: Pack | undefined) {
  const current = useCase();
  const known = first && linesOfPack(current(), first).lines;
  const [chosen, setChosen] = createSignal<Line | undefined>(
    known?.length === 1 ? known[0] : undefined,
  );
  const [only, setOnly] = createSignal<readonly Line[]>(known ?? []);
  const [seen, setSeen] = createSignal<readonly Pack[]>(first ? [first] : []);
  const [said, setSaid] = createSignal<string>();
  const [set, setSet] = createSignal<SetOfLines>();
  const [parts, setParts] = createSignal<ReadonlyMap<string, number>>(new Map());
  const [packs, setPacks] = createSignal<readonly number[]>(packsFor(chosen(), seen()));

  function choose(line: Line): void {
    setSet(undefined);
    setChosen(line);
    setPacks(packsFor(line, seen()));
  }

  function chooseSet(known: SetOfLines): void {
    setSet(known);
    setParts(new Map(known.lines.map(({ id, pack }) => [id, pack ?? 1])));
  }

  /** Another pack while the sheet is open belongs to it, or waits. */
  function scan(pack: Pack): void {
    const again = scannedBefore(current(), seen(), pack);
    const { lines } = linesOfPack(current(), pack);
    const line = chosen();
    const isSomething = set() !== undefined || seen().length > 0;
    const isOther = line ? isOfOther(line, lines, seen(), pack) : isSomething;
    setSaid(again ?? (isOther ? say`That is another item. Add this one first.` : undefined));
    if (again !== undefined || isOther) return;
    setSeen([...seen(), pack]);
    if (line) setPacks(oneMore(line, packs(), seen().length, pack));
    else if (lines[0] && lines.length === 1) choose(lines[0]);
    else setOnly(lines);
  }

  createPackScan(scan, setSaid);
  return {
    ...{ chosen, only, seen, said, packs, setPacks, choose, set, parts, chooseSet },
    setPart: (line: string, n: number) => setParts(new Map([...parts(), [line, n]])),
    isNone: () => set() !== undefined && [...parts().values()].every((n) => n === 0),
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
