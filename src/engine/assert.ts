/** A bug of ours. Recording stops until restart; the journal is kept. */
export class Fault extends Error {
  override readonly name = 'Fault';
}

/** Throws: Fault, when what must hold does not. */
export function assert(holds: boolean, sentence: string): asserts holds {
  if (!holds) throw new Fault(sentence);
}

/** Takes `never`: a union that grew does not compile until the new member is handled. Throws: Fault. */
export function unreachable(value: never): never {
  throw new Fault(`Not handled: ${JSON.stringify(value)}`);
}
