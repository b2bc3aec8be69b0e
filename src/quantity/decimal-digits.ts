/** A number as it is written in decimal: d.ddd * 10^exponent. Every double is one, in as few digits as tell it from its neighbours. */
export interface DecimalDigits {
  readonly isNegative: boolean;
  /** Without noughts at the end; of nought '0'. */
  readonly digits: string;
  /** Of the first digit. */
  readonly exponent: number;
}

export type Direction = 'nearest' | 'down' | 'up';

/** The digits that tell a finite number from all others; or so many, rounded to the nearest. */
export function digitsOf(value: number, most?: number): DecimalDigits {
  const text = most === undefined ? value.toExponential() : value.toExponential(most - 1);
  const [mantissa, exponent] = text.split('e') as [string, string];
  const isNegative = mantissa.startsWith('-');
  const first = isNegative ? 1 : 0;
  const digits = trimNoughts(mantissa[first]! + mantissa.slice(first + 2));
  return { isNegative, digits, exponent: Number(exponent) };
}

/** The multiple of 10^place that is nearest, half away from nought; or the next one below or above. */
export function roundDigits(number: DecimalDigits, place: number, direction: Direction): DecimalDigits {
  const { isNegative, digits, exponent } = number;
  const kept = exponent - place + 1;
  if (digits === '0' || kept >= digits.length) return number;
  const head = kept > 0 ? digits.slice(0, kept) : '';
  const isAway =
    direction === 'nearest' ? kept >= 0 && digits[kept]! >= '5' : isNegative === (direction === 'down');
  if (!isAway) return head === '' ? { isNegative, digits: '0', exponent: 0 } : fromHead(number, head);
  if (head === '') return { isNegative, digits: '1', exponent: place };
  const next = raise(head);
  return fromHead(next.length > head.length ? { ...number, exponent: exponent + 1 } : number, next);
}

function fromHead({ isNegative, exponent }: DecimalDigits, head: string): DecimalDigits {
  return { isNegative, digits: trimNoughts(head), exponent };
}

/** The next whole number. */
function raise(digits: string): string {
  const nines = /9*$/.exec(digits)![0].length;
  const at = digits.length - nines - 1;
  const noughts = '0'.repeat(nines);
  return at < 0 ? `1${noughts}` : `${digits.slice(0, at)}${Number(digits[at]) + 1}${noughts}`;
}

function trimNoughts(digits: string): string {
  let end = digits.length;
  while (end > 1 && digits[end - 1] === '0') end -= 1;
  return digits.slice(0, end);
}

/** With so many places behind the point, of which the number needs no more. */
export function writeFixed({ isNegative, digits, exponent }: DecimalDigits, places: number): string {
  const sign = isNegative && digits !== '0' ? '-' : '';
  const whole = exponent < 0 ? '0' : digits.slice(0, exponent + 1).padEnd(exponent + 1, '0');
  if (places === 0) return sign + whole;
  const behind = exponent < 0 ? '0'.repeat(-exponent - 1) + digits : digits.slice(exponent + 1);
  return `${sign}${whole}.${behind.padEnd(places, '0')}`;
}

/** The digits before the power of ten, with so many places behind the point, of which the number needs no more. */
export function writeMantissa({ isNegative, digits }: DecimalDigits, places: number): string {
  const sign = isNegative ? '-' : '';
  return places === 0 ? sign + digits : `${sign}${digits[0]}.${digits.slice(1).padEnd(places, '0')}`;
}
