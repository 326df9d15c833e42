import { Button } from '#parts/Button.tsx';
import { say } from '#words/say.ts';

/** The browser keeps nothing: no case is begun, rather than one that would be lost. */
export function NoJournal(props: { readonly sentence: string }) {
  return (
    <main class="plain-screen">
      <h1>{say`No case can be kept here`}</h1>
      <p>{props.sentence}</p>
      <p>
        {say`Use the tablet's own browser, not a private window, at the address your theatre gave. Until then count
          on paper.`}
      </p>
      <Button kind="primary" onPress={() => location.reload()}>
        {say`Try again`}
      </Button>
    </main>
  );
}
