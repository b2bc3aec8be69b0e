import type { Wording } from '../wording.ts';

export const documentMessages = {};
