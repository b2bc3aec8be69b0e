import { escapeMarkup } from '../../markup/escape-markup.ts';
import type { Callout, PhotoPicture } from '../../source/note-source.ts';
import { imageSource, type PageImage } from '../image-source.ts';
import { texHtml } from '../math/set-math.ts';
import type { NoteContext } from '../note-context.ts';
import type { BlockNode } from '../render-prose.ts';
import { fillTemplate } from '../templates.ts';
import { placePictures } from './place-pictures.ts';

/** A picture with its numbered marks, or two beside each other, at the place of a `yaml photo`; beside or below it what the marks say. */
export function renderPhoto(
  context: NoteContext,
  node: BlockNode,
  nextFigure: () => string,
  images: ReadonlyMap<string, PageImage>,
): { readonly html: string } {
  const photo = context.note.source.photos.find(({ place }) => place.piece === node.piece);
  const placed = photo && placePictures(photo, images);
  if (!photo || !placed) throw new Error(`the photo '${node.piece}' of the text was not read`);
  const marks = photo.pictures.flatMap(({ callouts }) => callouts);
  const html = fillTemplate('photo', {
    number: nextFigure(),
    caption: photo.caption,
    pictures: photo.pictures.map((picture, i) => viewPicture(picture, marks, images, placed[i]!.widthMm)),
    marks: marks.map((callout, i) => viewMark(callout, i + 1, context)),
    isBeside: marks.length > 0 && placed.length === 1 && placed[0]!.widthMm <= MOST_BESIDE_MM,
  });
  return { html };
}

/** Beside a picture that is no wider there is room for its caption and what its marks say. */
const MOST_BESIDE_MM = 105;

function viewPicture(
  { address, alt, callouts }: PhotoPicture,
  all: readonly Callout[],
  images: ReadonlyMap<string, PageImage>,
  widthMm: number,
) {
  const image = images.get(address);
  if (!image) throw new Error(`the image '${address}' was not read`);
  const numbered = callouts.map((callout) => ({ callout, number: all.indexOf(callout) + 1 }));
  const words = numbered.map(({ callout, number }) => `${number} ${callout.text}`).join(', ');
  return {
    source: imageSource(image),
    width: widthMm.toFixed(2),
    alt: escapeMarkup(words === '' ? alt : `${alt} Marked: ${words}.`),
    marks: numbered.map(({ callout: { at }, number }) => ({
      number,
      left: (at[0] * 100).toFixed(2),
      top: (at[1] * 100).toFixed(2),
    })),
  };
}

function viewMark({ text, given }: Callout, number: number, context: NoteContext) {
  return {
    number,
    text,
    symbol: given ? symbolOf(given.target, context) : '',
    value: given ? (context.note.proseTexts.get(given.target) ?? '') : '',
  };
}

/** The symbol of a value of this note's calculations; values of the register and of other notes have none here. */
function symbolOf(target: string, { blocks }: NoteContext): string {
  const [id, name, ...deeper] = target.split('.');
  const block = blocks.find((one) => one.id === id);
  if (!block || deeper.length > 0) return '';
  const { givens, steps } = block.evaluated;
  const symbol = [...givens, ...steps].find((one) => one.name === name)?.symbol;
  return symbol === undefined ? '' : texHtml(symbol);
}
