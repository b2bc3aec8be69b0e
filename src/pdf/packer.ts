import { zlibSync } from 'fflate';

/**
 * Packs contents of streams (`FlateDecode`, PDF 32000-1, 7.4.4), always into the same bytes: by a deflate in JavaScript, since those of the
 * system's depend on the processor.
 */
export interface Packer {
  /** Takes over pieces that nobody changes from now on. The packed ones, in their order, are there when they are asked for, again and again. */
  pack(pieces: readonly Uint8Array[]): () => readonly Uint8Array[];
}

export function packPiece(piece: Uint8Array): Uint8Array {
  return zlibSync(piece);
}

/** Packs when the packed pieces are asked for. */
export const PACKER: Packer = {
  pack: (pieces) => {
    let packed: readonly Uint8Array[] | undefined;
    return () => {
      packed ??= pieces.map(packPiece);
      return packed;
    };
  },
};
