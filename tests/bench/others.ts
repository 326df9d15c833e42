/** The usual ways to keep 900 numbers, each with the same checks: from the fastest that there is to the safest. */
import { from as automergeFrom, change } from '@automerge/automerge';
import { configureStore, createSlice, type PayloadAction } from '@reduxjs/toolkit';
import { produce } from 'immer';
import {
  lineIds,
  type Moves,
  type NamedMove,
  namedMovesOf,
  placeCount,
  placeNames,
  startingBalances,
  stockOf,
} from './workload.ts';

/** Prepares a run; the run gives the balances at the end, in the order of the workload. */
export type Contestant = (moves: Moves) => () => Int32Array;

type Rows = Record<string, Record<string, number>>;

const startingRows = (): Rows =>
  Object.fromEntries(
    lineIds.map((id, line) => [
      id,
      Object.fromEntries(placeNames.map((place) => [place, place === 'table' ? stockOf(line) : 0])),
    ]),
  );

const balancesOf = (rows: Rows): Int32Array =>
  Int32Array.from(lineIds.flatMap((id) => placeNames.map((place) => rows[id]?.[place] ?? -1)));

/** Line and places known, a whole number above 0, another place, and as many there. */
function isValid(rows: Rows, { line, from, to, n }: NamedMove): boolean {
  const row = rows[line];
  if (!row) return false;
  const there = row[from];
  if (there === undefined || row[to] === undefined) return false;
  return Number.isInteger(n) && n > 0 && from !== to && there >= n;
}

const typedArrays: Contestant = (moves) => {
  const { count, line, from, to, n } = moves;
  return () => {
    const balances = startingBalances();
    for (let i = 0; i < count; i++) {
      const row = (line[i] ?? 0) * placeCount;
      const pieces = n[i] ?? 0;
      balances[row + (from[i] ?? 0)] = (balances[row + (from[i] ?? 0)] ?? 0) - pieces;
      balances[row + (to[i] ?? 0)] = (balances[row + (to[i] ?? 0)] ?? 0) + pieces;
    }
    return balances;
  };
};

function move(rows: Rows, one: NamedMove): void {
  const row = rows[one.line];
  if (!row || !isValid(rows, one)) throw new Error('not valid');
  row[one.from] = (row[one.from] ?? 0) - one.n;
  row[one.to] = (row[one.to] ?? 0) + one.n;
}

const mutableObjects: Contestant = (moves) => {
  const named = namedMovesOf(moves);
  return () => {
    const rows = startingRows();
    for (const one of named) move(rows, one);
    return balancesOf(rows);
  };
};

const spreadReducer: Contestant = (moves) => {
  const named = namedMovesOf(moves);
  const reduce = (rows: Rows, one: NamedMove): Rows => {
    const row = rows[one.line];
    if (!row || !isValid(rows, one)) throw new Error('not valid');
    const next = {
      ...row,
      [one.from]: (row[one.from] ?? 0) - one.n,
      [one.to]: (row[one.to] ?? 0) + one.n,
    };
    return { ...rows, [one.line]: next };
  };
  return () => balancesOf(named.reduce(reduce, startingRows()));
};

const immerPerMove: Contestant = (moves) => {
  const named = namedMovesOf(moves);
  return () => {
    const step = (rows: Rows, one: NamedMove): Rows => produce(rows, (draft) => move(draft, one));
    return balancesOf(named.reduce(step, startingRows()));
  };
};

/** Without the checks that the toolkit adds in development. */
const reduxToolkit: Contestant = (moves) => {
  const actions = namedMovesOf(moves);
  return () => {
    const slice = createSlice({
      name: 'rows',
      initialState: startingRows(),
      reducers: { moved: (rows, action: PayloadAction<NamedMove>) => move(rows, action.payload) },
    });
    const store = configureStore({
      reducer: slice.reducer,
      devTools: false,
      middleware: (middleware) =>
        middleware({ serializableCheck: false, immutableCheck: false, actionCreatorCheck: false }),
    });
    let heard = 0;
    store.subscribe(() => heard++);
    for (const one of actions) store.dispatch(slice.actions.moved(one));
    if (heard !== actions.length) throw new Error('not heard');
    return balancesOf(store.getState());
  };
};

const automergePerMove: Contestant = (moves) => {
  const named = namedMovesOf(moves);
  return () => {
    let document = automergeFrom<{ rows: Rows }>({ rows: startingRows() });
    for (const one of named) document = change(document, (draft) => move(draft.rows, one));
    return balancesOf(document.rows);
  };
};

export const others: Readonly<Record<string, Contestant>> = {
  'typed arrays, no checks (the limit)': typedArrays,
  'mutable objects, string ids, checked': mutableObjects,
  'spread reducer': spreadReducer,
  Immer: immerPerMove,
  'Redux Toolkit': reduxToolkit,
  Automerge: automergePerMove,
};
