import type { Place } from '../diagnostics/place.ts';
import type { SignatureKind } from './note-source.ts';
import type { Recipient } from './read-distribution.ts';
import type { Letterhead } from './read-letterhead.ts';
import type { SourceNode } from './source-node.ts';

export interface Person {
  readonly key: string;
  readonly name: string;
  readonly designation?: string;
  readonly registration?: string;
  readonly initials?: string;
  /** The name under which `allowed_signers` lists the keys of this person, where it is not the key. */
  readonly signer?: string;
}

/** A state in which a document of the project can be. */
export interface DocumentState {
  /** 'for-construction', as notes write it under `status`; 'draft', 'void', 'superseded' and 'withdrawn' are derived. */
  readonly key: string;
  /** As it is printed. */
  readonly title: string;
  /** The project's code for what a document in this state may be used for. */
  readonly suitability?: string;
}

/** A value of the register: of a piece of equipment, a soil, or what else the project keeps there. */
export interface RegisterEntry {
  /** 'equipment.TX1.lightning_impulse_withstand' */
  readonly path: string;
  readonly value: SourceNode;
  readonly source?: string;
  readonly place: Place;
}

/** Who has compared a clause that a method quotes from memory with the text of its source. */
export interface SourceConfirmation {
  /** The designation, as it is printed: 'IEC 60099-5:2018'. */
  readonly source: string;
  /** The clause as it is printed behind it. */
  readonly clause: string;
  /** The key of a person. */
  readonly by: string;
  readonly date: string;
  readonly note?: string;
  readonly places: ReadonlyMap<string, Place>;
}

/** project.yaml, read. */
export interface ProjectSource {
  readonly file: string;
  readonly title: string;
  readonly client: string;
  readonly site: string;
  readonly contract?: string;
  /** The legal owner of the documents. */
  readonly company?: { readonly name: string; readonly address?: string; readonly department?: string };
  /** The head of the first page; that of the legal owner where absent. */
  readonly letterhead?: Letterhead;
  /** Who receives the documents that do not say it themselves. */
  readonly distribution?: readonly Recipient[];
  /** By what the documents are signed that do not say it themselves: keys where absent. */
  readonly signatures?: SignatureKind;
  readonly people: readonly Person[];
  /** The states of its documents; the common ones where absent. */
  readonly documentStates?: readonly DocumentState[];
  /** Clauses that somebody has compared with their texts. */
  readonly sourcesConfirmed?: readonly SourceConfirmation[];
  /** Who stamps the time of sign-offs, issues and digital signatures; nobody where absent. */
  readonly timeStamps?: {
    /** Address of a server that answers requests of RFC 3161. */
    readonly server: string;
    /** File in the project with the certificates (PEM) to which its stamps must lead. */
    readonly certificates?: string;
    /** Object identifier of the policy under which it is to stamp. */
    readonly policy?: string;
  };
  /** 'fetch': who signs the PDF may ask the addresses in certificates whether they were revoked. */
  readonly revocation?: 'fetch';
  /** Titles of register items, for the table of inputs: 'equipment.TX1' -> 'Transformer TX1, 11/0.4 kV, 500 kVA'. */
  readonly itemTitles: ReadonlyMap<string, string>;
  readonly register: ReadonlyMap<string, RegisterEntry>;
  /** The files that it includes, in the order of the list: registers of their own. */
  readonly includes?: readonly string[];
  /** A file that it includes could not be read whole, which has been reported: what it holds is not known. */
  readonly registerIncomplete?: true;
}
