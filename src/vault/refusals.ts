import { sayOf } from '#words/say.ts';

/** Why the vault did not do what was asked. `{name}` and `{seconds}` are filled in by `no`. */
export const refusals = {
  'name-missing': 'Say the name.',
  'name-taken': 'Somebody of this name is set up already.',
  'role-missing': 'Say at least one role.',
  'pin-form': 'A PIN is 4 to 8 digits.',
  'pin-weak': 'That PIN is among the first that anybody would try. Choose another.',
  'pin-wrong': 'That is not the PIN of {name}.',
  'pin-wait': 'Too many wrong PINs for {name}. Wait {seconds} seconds.',
  'badge-form': 'A badge has a number of 4 to 40 letters and digits.',
  'badge-taken': 'That is the badge of {name} already.',
  'person-unknown': 'This person is not set up on this tablet.',
  'not-two-others': 'Two other people have to confirm with their PINs.',
  locked: 'The tablet is locked. Somebody of the unit has to give a PIN first.',
  'set-up-already': 'People are set up on this tablet already.',
  'code-wrong': 'That is not the recovery code of this tablet.',
  'key-lost': 'This tablet has lost its own key. The recovery code on paper brings it back.',
  'not-kept': 'This could not be written to the tablet. {detail}',
} as const;

export type VaultCode = keyof typeof refusals;

export type No = {
  readonly ok: false;
  readonly failure: {
    readonly code: VaultCode;
    readonly sentence: string;
    /** How long this person's PIN is not taken. Units: milliseconds. */
    readonly waitMs?: number;
  };
};

type Filling = { readonly name?: string; readonly waitMs?: number; readonly detail?: string };

/** The answer "no" with the sentence of its code. */
export function no(code: VaultCode, { name = '', waitMs, detail = '' }: Filling = {}): No {
  const sentence = sayOf(refusals[code])
    .replace('{name}', name)
    .replace('{seconds}', String(Math.ceil((waitMs ?? 0) / 1000)))
    .replace('{detail}', detail)
    .trim();
  return { ok: false, failure: { code, sentence, ...(waitMs === undefined ? {} : { waitMs }) } };
}
