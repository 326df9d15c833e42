import { sha256 as hashOf } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';

/**
 * The SHA-256 of a text in UTF-8, in hex, in the page itself. The browser's own answers later, from another
 * thread: for the 700 bytes of a row the way there and back costs many times the hash, and an entry has to
 * wait for it. Nothing secret is ever hashed here under a key.
 *
 * Source: FIPS 180-4.
 */
export const sha256 = (text: string): string => bytesToHex(hashOf(utf8ToBytes(text)));
