import { createMemo, createSignal, For, Show } from 'solid-js';
import { filmWorth } from '#engine/discrepancies/filmWorth.ts';
import type { Line } from '#engine/sheet.ts';
import type { Differing, DiscrepancyStep } from '#engine/state.ts';
import { discrepancySteps } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { Headline } from '#parts/Headline.tsx';
import { say } from '#words/say.ts';
import { CaseShell } from '../CaseShell.tsx';
import { EntriesDialog } from '../EntriesDialog.tsx';
import { useCase, useSession } from '../useSession.ts';
import { XrayDialog } from '../XrayDialog.tsx';
import { DeclareDialog } from './DeclareDialog.tsx';
import { FoundDialog } from './FoundDialog.tsx';
import { SkipDialog } from './SkipDialog.tsx';
import './discrepancy.css';

/** A discrepancy: its numbers large, and what to do, in order. */
export function DiscrepancyScreen(props: { readonly line: string }) {
  const { session } = useSession();
  const current = useCase();
  const open = createMemo(() => current().differing[props.line]);
  const line = () => current().lines.get(props.line);
  return (
    <Show
      when={open()?.stage === 'discrepancy' && open()}
      fallback={
        <CaseShell
          name={say`Discrepancy`}
          actions={
            <Button kind="primary" onPress={() => session.show({ name: 'frame' })}>
              {say`To the counting frame`}
            </Button>
          }
        >
          <header class="screen-head">
            <h1>{say`No discrepancy is open on this line`}</h1>
          </header>
        </CaseShell>
      }
    >
      {(found) => <Show when={line()}>{(known) => <Open open={found()} line={known()} />}</Show>}
    </Show>
  );
}

/** `read`: what was entered of the line is read back. */
type Asking = 'found' | 'declare' | 'xray' | 'amend' | 'read' | DiscrepancyStep;

function Open(props: { readonly open: Differing; readonly line: Line }) {
  const { session } = useSession();
  const current = useCase();
  const [asking, setAsking] = createSignal<Asking>();
  const isShort = () => props.open.difference < 0;
  const pieces = () => Math.abs(props.open.difference);
  const heading = () => {
    const many = pieces() === 1 ? say`One` : String(pieces());
    return say`Do not close. ${many} ${isShort() ? say`missing` : say`too many`}.`;
  };
  return (
    <CaseShell
      name={say`Discrepancy`}
      actions={
        <>
          <Button kind="plain" onPress={() => session.show({ name: 'recount' })}>
            {say`Count it again`}
          </Button>
          <Show
            when={isShort()}
            fallback={
              <Button kind="primary" onPress={() => setAsking('amend')}>
                {say`Amend…`}
              </Button>
            }
          >
            <Button kind="danger" onPress={() => setAsking('declare')}>
              {say`Declare…`}
            </Button>
            <Button kind="primary" onPress={() => setAsking('found')}>
              {say`Found it`}
            </Button>
          </Show>
        </>
      }
    >
      <div class="search">
        <Headline words={heading()} tone="missing" />
        <div class="difference" data-tone="missing">
          <strong class="difference-name">{props.line.name}</strong>
          <Figure label={say`Expected`} value={String(props.open.expected)} />
          <Figure label={say`Counted`} value={String(props.open.found)} />
          <Figure label={say`Difference`} value={signed(props.open.difference)} />
        </div>
        <ol class="search-steps">
          <For each={isShort() ? discrepancySteps : discrepancySteps.slice(0, 2)}>
            {(step, index) => (
              <SearchStep step={step} number={index() + 1} open={props.open} onAsk={setAsking} />
            )}
          </For>
        </ol>
        <Show when={isShort()}>
          <p class="film-worth">◆ {filmWorth(props.line, current().sheet.policy).sentence}</p>
        </Show>
        <p class="quiet search-ends">
          {say`It ends with two recounts in a row that agree, or a declaration. Nothing else.`}
        </p>
      </div>
      <Dialogs
        asking={asking()}
        open={props.open}
        line={props.line}
        onClose={() => setAsking(undefined)}
      />
    </CaseShell>
  );
}

const signed = (n: number): string => (n < 0 ? `−${-n}` : `+${n}`);

function Figure(props: { readonly label: string; readonly value: string }) {
  return (
    <div class="figure">
      <span class="quiet">{props.label}</span>
      <strong class="digits-type">{props.value}</strong>
    </div>
  );
}

const stepWords = (): Readonly<Record<DiscrepancyStep, readonly [string, string]>> => ({
  'surgeon-told': [say`Surgeon told, and says so`, say`Surgeon`],
  'record-read': [say`Read the record back, entry by entry`, say`Scrub and circulator`],
  'field-searched': [
    say`Search wound and field: ports, suction, bags, drapes`,
    say`Surgeon and scrub`,
  ],
  'room-searched': [say`Search linen, bins, floor, needle box, pots`, say`Circulator`],
  xray: [say`X-ray before the patient leaves, whole field`, say`Who read it`],
});

type SearchProps = {
  readonly step: DiscrepancyStep;
  readonly number: number;
  readonly open: Differing;
  readonly onAsk: (asking: Asking) => void;
};

function SearchStep(props: SearchProps) {
  const { session } = useSession();
  const done = () => props.open.steps[props.step];
  const by = () =>
    props.step === 'surgeon-told' || props.step === 'field-searched' ? 'surgeon' : 'circulator';
  const mark = () => {
    if (props.step === 'xray') props.onAsk('xray');
    else if (props.step === 'record-read') props.onAsk('read');
    else
      void session.send({ type: 'discrepancy', line: props.open.line, step: props.step, by: by() });
  };
  return (
    <li class="search-step" data-step={props.step} data-done={done() ? '' : undefined}>
      <button type="button" class="search-act" disabled={done() !== undefined} onClick={mark}>
        <span class="search-box digits-type" aria-hidden="true">
          {done() ? '✓' : props.number}
        </span>
        <strong>{stepWords()[props.step][0]}</strong>
        <span class="search-who">
          {done()
            ? `${done()?.at.slice(11, 16)} · ${done()?.skipped ? say`not done: ${done()?.skipped}` : done()?.by}`
            : stepWords()[props.step][1]}
        </span>
      </button>
      <Show when={!done()}>
        <Button kind="quiet" onPress={() => props.onAsk(props.step)}>
          {say`Why not…`}
        </Button>
      </Show>
    </li>
  );
}

function Dialogs(props: {
  readonly asking: Asking | undefined;
  readonly open: Differing;
  readonly line: Line;
  readonly onClose: () => void;
}) {
  const { session } = useSession();
  const read = () => {
    props.onClose();
    const step = { line: props.line.id, step: 'record-read', by: 'circulator' } as const;
    void session.send({ type: 'discrepancy', ...step });
  };
  const skipped = () => discrepancySteps.find((step) => step === props.asking && step !== 'xray');
  return (
    <>
      <Show when={props.asking === 'found'}>
        <FoundDialog line={props.line} onClose={props.onClose} />
      </Show>
      <Show when={props.asking === 'declare' || props.asking === 'amend'}>
        <DeclareDialog
          line={props.line}
          open={props.open}
          kind={props.asking === 'amend' ? 'amend' : 'declare'}
          onClose={props.onClose}
        />
      </Show>
      <Show when={props.asking === 'read'}>
        <EntriesDialog line={props.line} onRead={read} onClose={props.onClose} />
      </Show>
      <Show when={props.asking === 'xray'}>
        <XrayDialog line={props.line.id} canSkip onClose={props.onClose} />
      </Show>
      <Show when={skipped()} keyed>
        {(step) => <SkipDialog line={props.line.id} step={step} onClose={props.onClose} />}
      </Show>
    </>
  );
}
