import { readPhrasesFrom } from '#words/say.ts';

/** Does something while German is spoken with a few phrases; afterwards it is English again, whatever happens. */
export function inGerman<Made>(phrases: Readonly<Record<string, string>>, make: () => Made): Made {
  const book = {
    language: 'de',
    phrases: new Map(Object.entries(phrases)),
    keepsCapitals: true,
  };
  readPhrasesFrom(() => book);
  try {
    return make();
  } finally {
    readPhrasesFrom(() => undefined);
  }
}
