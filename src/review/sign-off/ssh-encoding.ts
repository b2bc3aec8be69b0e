/** What is quoted may have any length, and stands in pages. */
const MOST_WORDS = 300;

/** Why something of SSH is not taken, in words. */
export class SshFault extends Error {
  /** @param message may quote bytes of whoever wrote the signature: what is no printable ASCII is spelt, for pages that have no sign for it */
  constructor(message: string) {
    const short = message.length > MOST_WORDS ? `${message.slice(0, MOST_WORDS)} ...` : message;
    super(
      short.replaceAll(
        /[^ -~]/gu,
        (character) => `\\u{${character.codePointAt(0)!.toString(16).padStart(4, '0')}}`,
      ),
    );
  }
}

/** Reads the encoding of SSH, RFC 4251, section 5; what is cut off or left over throws an `SshFault`. */
export class SshReader {
  readonly #bytes: Buffer;
  readonly #what: string;
  #at = 0;

  /** @param what what the bytes are, for messages: 'the signature' */
  constructor(bytes: Buffer, what = 'the signature') {
    this.#bytes = bytes;
    this.#what = what;
  }

  /** How many bytes have been read. */
  get at(): number {
    return this.#at;
  }

  get done(): boolean {
    return this.#at === this.#bytes.length;
  }

  take(count: number): Buffer {
    if (this.#at + count > this.#bytes.length) throw new SshFault(`${this.#what} is cut off`);
    this.#at += count;
    return this.#bytes.subarray(this.#at - count, this.#at);
  }

  byte(): number {
    return this.take(1)[0]!;
  }

  number(): number {
    return this.take(4).readUInt32BE();
  }

  /** 64 bits. */
  long(): bigint {
    return this.take(8).readBigUInt64BE();
  }

  bytes(): Buffer {
    return this.take(this.number());
  }

  text(): string {
    return this.bytes().toString();
  }

  /** A number that is not negative, without leading zeros. */
  integer(): Buffer {
    const bytes = this.bytes();
    const first = bytes.findIndex((byte) => byte !== 0);
    return first < 0 ? Buffer.alloc(0) : bytes.subarray(first);
  }

  end(): void {
    if (!this.done) throw new SshFault(`${this.#what} is damaged`);
  }
}

/** Bytes with their length before them, as `SshReader.bytes` reads them. */
export function withLength(bytes: Buffer): Buffer {
  const length = Buffer.alloc(4);
  length.writeUInt32BE(bytes.length);
  return Buffer.concat([length, bytes]);
}
