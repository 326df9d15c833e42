import { createSignal, lazy, Show, Suspense } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { languages } from '#words/languages.ts';
import { useSession } from '../useSession.ts';

const LanguageDialog = lazy(async () => ({
  default: (await import('./LanguageDialog.tsx')).LanguageDialog,
}));

/** What the program speaks, in its own name, and the others a tap away. */
export function LanguageKey() {
  const { state } = useSession();
  const [isAsking, setAsking] = createSignal(false);
  const name = () => languages.find((one) => one.id === state().language)?.name;
  return (
    <>
      <Button kind="plain" onPress={() => setAsking(true)}>
        <span lang={state().language}>{name()}</span>
      </Button>
      <Show when={isAsking()}>
        <Suspense>
          <LanguageDialog onClose={() => setAsking(false)} />
        </Suspense>
      </Show>
    </>
  );
}
