import { createSignal, Show } from 'solid-js';
import { ChoiceGrid } from '#parts/ChoiceGrid.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { languageOf, languages } from '#words/languages.ts';
import { say } from '#words/say.ts';
import { speak } from '../speaking.ts';
import { useSession } from '../useSession.ts';

/** The languages, each in its own name. The one that is chosen is spoken at once. */
export function LanguageDialog(props: { readonly onClose: () => void }) {
  const { session, state } = useSession();
  const [isWrong, setWrong] = createSignal(false);
  const choose = async (id: string) => {
    const language = languageOf(id);
    try {
      await speak(language);
    } catch {
      setWrong(true);
      return;
    }
    session.setLanguage(language);
    props.onClose();
  };
  return (
    <Dialog
      title={say`Language`}
      sentence={say`Screens and prints change at once. What was entered stays as it was said.`}
      onClose={props.onClose}
    >
      <Show when={isWrong()}>
        <p class="dialog-warning" role="alert">
          {say`That language could not be read on this tablet. Open the program again.`}
        </p>
      </Show>
      <ChoiceGrid
        label={say`Language`}
        choices={languages}
        chosen={[state().language]}
        onChoose={(id) => void choose(id)}
      />
      <p class="quiet">{say`No clinician has reviewed the German words, nor the American ones.`}</p>
    </Dialog>
  );
}
