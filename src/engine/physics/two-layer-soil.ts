/** A sum of images is finished when its next term is this small against what it has reached. */
const NEGLIGIBLE = 1e-11;
const MOST_IMAGES = 4000;

/** Soil of two horizontal layers: reflection factor (lower - upper)/(lower + upper), thickness of the upper layer in m. */
export interface Layers {
  readonly reflection: number;
  readonly thickness: number;
}

/** A symmetrical line of four electrodes: distances in m from each current electrode to the near and the far probe. */
export interface Electrodes {
  readonly near: number;
  readonly far: number;
}

/** The apparent resistivity as a multiple of that of the upper layer, with its slopes by reflection factor and thickness. */
export interface ApparentRatio {
  readonly ratio: number;
  readonly byReflection: number;
  readonly byThickness: number;
}

/**
 * Apparent resistivity that a symmetrical line of four point electrodes on soil of two layers finds, over the resistivity of
 * the upper layer: the sum over the images of the current electrodes. Sunde, Earth conduction effects in transmission systems.
 */
export function apparentRatio(
  { reflection, thickness }: Layers,
  { near, far }: Electrodes,
  negligible = NEGLIGIBLE,
): ApparentRatio {
  const direct = 1 / near - 1 / far;
  let [sum, byReflection, byThickness] = [0, 0, 0];
  let power = 1;
  for (let image = 1; image <= MOST_IMAGES; image++) {
    const depth = 2 * image * thickness;
    const [toNear, toFar] = [Math.sqrt(near * near + depth * depth), Math.sqrt(far * far + depth * depth)];
    const term = 1 / toNear - 1 / toFar;
    byReflection += image * power * term;
    power *= reflection;
    sum += power * term;
    byThickness +=
      (power * depth * depth * (1 / (toFar * toFar * toFar) - 1 / (toNear * toNear * toNear))) / thickness;
    const size = Math.abs(image * power * term);
    if (size <= negligible * Math.abs(direct + 2 * sum)) break;
  }
  const scale = 2 / direct;
  return {
    ratio: 1 + scale * sum,
    byReflection: scale * byReflection,
    byThickness: scale * byThickness,
  };
}

/**
 * Resistivity of uniform soil in which a thin disc of the given radius (m) on the surface would have the resistance that it
 * has on the two layers, over that of the upper layer. The current is spread as on a disc in uniform soil, which errs upwards:
 * by 3 % over a lower layer of a ninth of the resistivity at 0.3 radii, and by less where the layers differ less.
 */
export function discRatio({ reflection, thickness }: Layers, radius: number): number {
  let sum = 0;
  let power = 1;
  for (let image = 1; image <= MOST_IMAGES; image++) {
    power *= reflection;
    const term = power * potentialOfDisc((2 * image * thickness) / radius);
    sum += term;
    if (Math.abs(term) <= NEGLIGIBLE * Math.abs(1 + 2 * sum)) break;
  }
  return 1 + 2 * sum;
}

/** So many places on the disc; each stands for an equal share of its current. */
const PLACES = 24;
const SINES = Array.from({ length: PLACES }, (_, at) => Math.sqrt(1 - (1 - (at + 0.5) / PLACES) ** 2));

/** Mean potential on a disc of radius 1, weighted with its current, of another disc at potential 1 at the distance above it. */
function potentialOfDisc(distance: number): number {
  let sum = 0;
  for (const place of SINES) {
    const [inner, outer] = [Math.hypot(1 - place, distance), Math.hypot(1 + place, distance)];
    sum += (2 / Math.PI) * Math.asin(Math.min(1, 2 / (inner + outer)));
  }
  return sum / PLACES;
}
