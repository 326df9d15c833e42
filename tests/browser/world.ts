import type { Page } from '@playwright/test';

/**
 * What really lies where, whatever the tablet knows. The screen is blind in a count, so that the
 * people of a test must look here, as people in a theatre look at the table.
 */
export type Whereabouts = 'table' | 'in sight' | 'inside' | 'off' | 'gone';

/** A part of a case as it is played on the page. */
export type Phase = {
  readonly name: string;
  readonly play: (page: Page, world: World) => Promise<void>;
};

export type World = {
  readonly at: (line: string, where: Whereabouts) => number;
  /** Pieces that come into the world: opened, or made of another piece. */
  readonly put: (line: string, where: Whereabouts, pieces: number) => void;
  readonly shift: (line: string, from: Whereabouts, to: Whereabouts, pieces?: number) => void;
  /** Pieces that are no more: a reel that was cut, a length that was tied. */
  readonly take: (line: string, where: Whereabouts, pieces: number) => void;
  /** Done where a pot waits for its label, for a test that prints them. */
  readonly atLabel?: ((page: Page) => Promise<void>) | undefined;
};

/**
 * Makes an empty world.
 *
 * `in sight` is inside and seen without a search, as a cannula in the wall; `inside` is not seen.
 * Throws: an error, when a piece is taken from where none lies: the test is then wrong.
 */
export function makeWorld(atLabel?: World['atLabel']): World {
  const pieces = new Map<string, number>();
  const at = (line: string, where: Whereabouts) => pieces.get(`${line}/${where}`) ?? 0;
  const change = (line: string, where: Whereabouts, by: number) => {
    const now = at(line, where) + by;
    if (now < 0) throw new Error(`There are not that many of ${line} at ${where}.`);
    pieces.set(`${line}/${where}`, now);
  };
  return {
    atLabel,
    at,
    put: (line, where, n) => change(line, where, n),
    take: (line, where, n) => change(line, where, -n),
    shift: (line, from, to, n = 1) => {
      change(line, from, -n);
      change(line, to, n);
    },
  };
}
