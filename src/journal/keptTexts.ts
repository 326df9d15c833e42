/** Rows kept in mind as text, in order. Only ever added to. */
export type KeptTexts = {
  readonly count: () => number;
  readonly push: (text: string) => void;
  readonly at: (index: number) => Promise<string | undefined>;
  readonly all: () => Promise<readonly string[]>;
};

/** Rows look alike: so many together take less than a sixth of their room. */
const blockSize = 64;

/**
 * Keeps texts: those that were read stand as they are, those that are added are packed when newer ones have come.
 * A case of a day and a night has 20,000 rows of 700 bytes.
 *
 * Rules: a block is let go of only after what was packed gave the same texts again; where the browser cannot pack,
 * they stay as they are.
 */
export function keepTexts(read: readonly string[]): KeptTexts {
  const blocks: Uint8Array<ArrayBuffer>[] = [];
  const newest: string[] = [];
  let isPacking = false;

  const count = (): number => read.length + blocks.length * blockSize + newest.length;

  const isLong = (): boolean => newest.length >= 2 * blockSize;

  async function packOldest(): Promise<void> {
    while (isLong()) {
      const oldest = newest.slice(0, blockSize);
      const packed = await pack(oldest);
      const again = await unpack(packed);
      if (oldest.some((text, index) => text !== again[index])) return;
      blocks.push(packed);
      newest.splice(0, blockSize);
    }
    isPacking = false;
  }

  async function all(): Promise<readonly string[]> {
    const rest = [...newest]; // taken at once with the blocks: a row stands in one of them
    const packed = await Promise.all(blocks.map(unpack));
    return [...read, ...packed.flat(), ...rest];
  }

  return {
    count,
    all,
    at: async (index) => read[index] ?? (await all())[index],
    push: (text) => {
      newest.push(text);
      if (isPacking || !isLong()) return;
      isPacking = true; // and stays so after a failure
      packOldest().catch(() => undefined);
    },
  };
}

/** A row is canonical JSON: it has no line break. */
const pack = async (texts: readonly string[]): Promise<Uint8Array<ArrayBuffer>> =>
  through(new CompressionStream('deflate'), new TextEncoder().encode(texts.join('\n')));

async function unpack(packed: Uint8Array<ArrayBuffer>): Promise<readonly string[]> {
  const bytes = await through(new DecompressionStream('deflate'), packed);
  return new TextDecoder().decode(bytes).split('\n');
}

async function through(
  stream: CompressionStream | DecompressionStream,
  bytes: Uint8Array<ArrayBuffer>,
): Promise<Uint8Array<ArrayBuffer>> {
  const answer = new Response(new Blob([bytes]).stream().pipeThrough(stream)).arrayBuffer();
  return new Uint8Array(await answer);
}
