import { type Bytes, fromHex, randomBytes, toHex } from './bytes.ts';
import { type Answer, asAnswer, type CodeAnswer, openWith, type VaultCore } from './core.ts';
import { newDeviceKey } from './pinLock.ts';
import { newRecoveryCode, readRecoveryCode, recoveryKey } from './recoveryCode.ts';
import { no } from './refusals.ts';
import { openBytes, sealBytes } from './sealBytes.ts';

/** The code on paper: for the day when PINs are forgotten, or the browser has thrown its database away. */
export type PaperCode = {
  /** A new code; the one before is worth nothing then. Fails: locked, not-kept. */
  readonly newCode: (by: readonly string[]) => Promise<CodeAnswer>;
  /**
   * Opens by the code. Where the tablet's own key was lost it gets a new one, and every PIN is void.
   * Fails: code-wrong, not-kept.
   */
  readonly openByCode: (typed: string) => Promise<Answer>;
};

const aboutCode = 'lastlook code';

/** What the code does to the keys. */
export function makePaperCode(core: VaultCore): PaperCode {
  async function newCode(by: readonly string[]): Promise<CodeAnswer> {
    const { unitKey } = core;
    if (!unitKey) return no('locked');
    const { salt, text, code } = await sealCode(unitKey);
    const written = await core.write({ type: 'codeMade', salt, sealed: text, by });
    return written.ok ? { ok: true, code } : written;
  }

  async function openByCode(typed: string): Promise<Answer> {
    const code = readRecoveryCode(typed);
    const known = core.book.code;
    const salt = fromHex(known?.salt ?? '');
    if (!code || !known || !salt) return no('code-wrong');
    const unitKey = await openBytes(await recoveryKey(code, salt), known.sealed, aboutCode);
    if (!unitKey) return no('code-wrong');
    if (!core.deviceKey) {
      const replaced = await replaceDeviceKey(core);
      if (!replaced.ok) return replaced;
    }
    return openWith(core, unitKey, 'code');
  }

  return { newCode, openByCode };
}

/** Seals the unit's key under a new code for paper. */
export async function sealCode(unitKey: Bytes) {
  const code = newRecoveryCode();
  const salt = randomBytes(16);
  const key = await recoveryKey(readRecoveryCode(code) ?? '', salt);
  return { code, salt: toHex(salt), text: await sealBytes(key, unitKey, aboutCode) };
}

async function replaceDeviceKey(core: VaultCore): Promise<Answer> {
  const key = await newDeviceKey();
  const kept = asAnswer(await core.ports.deviceKey.put(key));
  if (!kept.ok) return kept;
  core.deviceKey = key;
  return core.write({ type: 'keyReplaced' });
}
