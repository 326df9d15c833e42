import { createResource, createSignal, Match, onCleanup, onMount, Show, Switch } from 'solid-js';
import { Portal } from 'solid-js/web';
import { Bars } from '#parts/Bars.tsx';
import { Button } from '#parts/Button.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { type Proof, proofBarsText, proveScanner } from '#scan/proveScanner.ts';
import { say } from '#words/say.ts';
import { useSession } from '../useSession.ts';
import '../scans.css';
import './ProofLabel.css';

/** A scanner reads the set-up label from the screen or from paper, and the tablet says what it made of it. */
export function ProveScanner(props: { readonly onClose: () => void }) {
  const { session, state, scans } = useSession();
  const [proof, setProof] = createSignal<Proof>();
  const [key, setKey] = createSignal<string>();
  const [bars] = createResource(async () =>
    (await import('#scan/code128.ts')).code128(proofBarsText, true),
  );
  scans.take((text) => {
    setProof(proveScanner(text));
    return true;
  });
  watchKeys(setKey);
  const fault = () => {
    const said = proof();
    return said && !said.ok ? said : undefined;
  };
  /** What the tablet can be told, where the scanner cannot be set. */
  const settings = () => {
    const { instead, isDropped } = fault() ?? {};
    if (instead !== undefined) return { separatorText: instead };
    const pressed = key();
    return isDropped && pressed !== undefined ? { separatorKey: pressed } : undefined;
  };
  const told = () => state().scanner.separatorText ?? state().scanner.separatorKey;
  return (
    <Dialog
      title={say`Prove the scanner`}
      sentence={say`Scan this label. It ends with Enter; if nothing is said, the scanner does not send one.`}
      onClose={props.onClose}
      closeWords={say`Done`}
      actions={
        <>
          <Show when={told()}>
            <Button kind="plain" detail={told()} onPress={() => session.setScanner({})}>
              {say`Forget the separator`}
            </Button>
          </Show>
          <Button kind="plain" onPress={printAlone}>
            {say`Print the label`}
          </Button>
        </>
      }
    >
      <div class="proof-label">
        <Bars class="proof-bars" bars={bars.latest} modulePx={2} />
      </div>
      <Switch fallback={<p class="scan-said">{say`Nothing was scanned yet.`}</p>}>
        <Match when={proof()?.ok}>
          <p class="scan-said" data-proof="right" role="status">
            {say`✓ This scanner is set right. What it reads of packs, wristbands and labels can be trusted.`}
          </p>
        </Match>
        <Match when={fault()}>
          {(said) => (
            <p class="scan-said" data-proof="wrong" role="alert">
              ▲ {said().sentence}
            </p>
          )}
        </Match>
      </Switch>
      <Show when={settings()}>
        {(wanted) => (
          <Button
            kind="primary"
            onPress={() => {
              session.setScanner(wanted());
              setProof(undefined);
            }}
          >
            {say`On this tablet, ${Object.values(wanted())[0]} means the separator. Then scan again.`}
          </Button>
        )}
      </Show>
      <Portal>
        <div class="print-alone">
          <div class="proof-paper">
            <p>{say`Set-up label of Lastlook: scan it to prove a scanner. It is of no pack.`}</p>
            <Bars class="proof-bars" bars={bars.latest} />
          </div>
        </div>
      </Portal>
    </Dialog>
  );
}

/** Some scanners press a key of their own for the separator; which one it was last. */
function watchKeys(onKey: (key: string) => void): void {
  const down = (event: KeyboardEvent) => {
    if (/^F\d{1,2}$/.test(event.key)) onKey(event.key);
  };
  onMount(() => document.addEventListener('keydown', down, true));
  onCleanup(() => document.removeEventListener('keydown', down, true));
}

function printAlone(): void {
  const done = () => {
    delete document.documentElement.dataset.printing;
    window.removeEventListener('afterprint', done);
  };
  window.addEventListener('afterprint', done);
  document.documentElement.dataset.printing = 'label';
  window.print();
}
