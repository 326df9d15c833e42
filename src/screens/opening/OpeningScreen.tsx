import { createMemo, createSignal, Match, Show, Switch } from 'solid-js';
import type { Sheet } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { ChoiceGrid } from '#parts/ChoiceGrid.tsx';
import { Scroller } from '#parts/Scroller.tsx';
import { Track, type TrackStop } from '#parts/Track.tsx';
import { byTitle, type SheetEntry } from '#session/sheetEntry.ts';
import { say } from '#words/say.ts';
import { useSession } from '../useSession.ts';
import {
  emptyForm,
  type FieldName,
  type OpeningForm,
  type PageId,
  pageOf,
  pages,
  patientOf,
  wrongIn,
} from './form.ts';
import { PatientPage } from './PatientPage.tsx';
import { PlanPage } from './PlanPage.tsx';
import { TeamPage } from './TeamPage.tsx';

/** Opening a case, page by page: operation, plan, patient, team. What is wrong is said beside its field. */
export function OpeningScreen(props: { readonly sheets: readonly SheetEntry[] }) {
  const { session } = useSession();
  const [form, setForm] = createSignal(emptyForm(''));
  const [sheet, setSheet] = createSignal<Sheet>();
  const [isLost, setLost] = createSignal(false);
  const [page, setPage] = createSignal<PageId>('operation');
  const [isTried, setTried] = createSignal(false);
  const change = (part: Partial<OpeningForm>) => setForm({ ...form(), ...part });
  const wrong = createMemo(() => wrongIn(form(), session.now(), sheet()));
  const said = (field: FieldName) => (isTried() ? wrong()[field] : undefined);
  const shared = { change, said };
  const next = () => setPage(after(page()));
  const choose = async (id: string) => {
    change({ sheet: id, variants: {} });
    setSheet(undefined);
    const chosen = await props.sheets
      .find((one) => one.id === id)
      ?.load()
      .catch(() => undefined); // said below
    if (form().sheet !== id) return;
    setLost(chosen === undefined);
    if (!chosen) return;
    setSheet(chosen);
    setPage(chosen.variants.length > 0 ? 'plan' : 'patient');
  };
  const open = async () => {
    setTried(true);
    const chosen = sheet();
    const first = firstWrong(wrong());
    if (!chosen) setPage('operation');
    else if (first) setPage(pageOf(first));
    else await session.begin(beginning(form(), chosen));
  };
  return (
    <div class="opening">
      <header class="opening-head">
        <h1>{say`Start a case`}</h1>
        <Track
          label={say`What is said before a case is opened`}
          stops={stopsOf(page(), sheet() !== undefined)}
          onOpen={(id) => {
            const known = pages().find((one) => one.id === id);
            if (known && sheet()) setPage(known.id);
          }}
        />
      </header>
      <main class="opening-main">
        <Scroller>
          <Switch
            fallback={
              <OperationPage
                sheets={props.sheets}
                form={form()}
                onChoose={(id) => void choose(id)}
              />
            }
          >
            <Match when={page() === 'plan' && sheet()}>
              {(chosen) => <PlanPage {...shared} form={form()} sheet={chosen()} />}
            </Match>
            <Match when={page() === 'patient'}>
              <PatientPage {...shared} form={form()} />
            </Match>
            <Match when={page() === 'team'}>
              <TeamPage {...shared} form={form()} />
            </Match>
          </Switch>
        </Scroller>
      </main>
      <OpeningFoot
        wrong={isLost() ? [lostWords()] : isTried() ? Object.values(wrong()) : []}
        page={page()}
        whyNot={
          sheet() ? (page() === 'plan' ? wrong().plan : undefined) : say`Choose the operation.`
        }
        onNext={next}
        onOpen={() => void open()}
      />
    </div>
  );
}

const lostWords = () => say`This sheet could not be read on this tablet. Open the program again.`;

function firstWrong(wrong: Readonly<Partial<Record<FieldName, string>>>): FieldName | undefined {
  const order = ['plan', 'name', 'number', 'born', 'weight', 'allergies'] as const;
  const team = ['scrub', 'circulator', 'surgeon', 'anaesthetist'] as const;
  return [...order, ...team].find((field) => wrong[field] !== undefined);
}

function after(page: PageId): PageId {
  const at = pages().findIndex((one) => one.id === page);
  return pages()[at + 1]?.id ?? page;
}

const stopsOf = (page: PageId, hasSheet: boolean): readonly TrackStop[] => {
  const here = pages().findIndex((one) => one.id === page);
  return pages().map(({ id, name }, at) => ({
    id,
    name,
    state: at === here ? 'here' : at < here && hasSheet ? 'done' : 'ahead',
  }));
};

function beginning(form: OpeningForm, sheet: Sheet) {
  const { scrub, circulator, surgeon, anaesthetist } = form.team;
  return {
    sheet,
    patient: patientOf(form),
    team: {
      scrub: scrub.trim(),
      circulator: circulator.trim(),
      surgeon: surgeon.trim(),
      anaesthetist: anaesthetist.trim(),
    },
    variants: Object.values(form.variants),
    practice: form.practice,
  };
}

function OperationPage(props: {
  readonly sheets: readonly SheetEntry[];
  readonly form: OpeningForm;
  readonly onChoose: (id: string) => void;
}) {
  const choices = createMemo(() =>
    byTitle(props.sheets).map((one) => ({ id: one.id, name: one.title, detail: one.version })),
  );
  return (
    <section>
      <h2>{say`Which operation?`}</h2>
      <ChoiceGrid
        label={say`Sheet`}
        choices={choices()}
        chosen={[props.form.sheet]}
        onChoose={props.onChoose}
      />
    </section>
  );
}

function OpeningFoot(props: {
  readonly wrong: readonly string[];
  readonly page: PageId;
  /** Why the next page has to wait. */
  readonly whyNot: string | undefined;
  readonly onNext: () => void;
  readonly onOpen: () => void;
}) {
  const { session, state } = useSession();
  const others = () => props.wrong.length - 1;
  return (
    <footer class="opening-foot">
      <p class="opening-said" role="status">
        <Show when={state().notSaved}>{(sentence) => <>▲ {sentence()} </>}</Show>
        <Show when={props.wrong.length > 0}>
          ▲ {props.wrong[0]}
          {others() > 0 ? say` And ${others()} more.` : ''}
        </Show>
      </p>
      <div class="row">
        <Show when={state().notSaved}>
          <Button kind="danger" onPress={() => void session.retry()}>
            {say`Save again`}
          </Button>
        </Show>
        <Button kind="plain" onPress={() => void session.go({ screen: 'start' })}>
          {say`Leave it`}
        </Button>
        <Show
          when={props.page === 'team'}
          fallback={
            <Button kind="primary" whyNot={props.whyNot} onPress={props.onNext}>
              {say`Next`}
            </Button>
          }
        >
          <Button kind="primary" onPress={props.onOpen}>
            {say`Open the case`}
          </Button>
        </Show>
      </div>
    </footer>
  );
}
