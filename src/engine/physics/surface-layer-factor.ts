/** How thick a disc that stands for a foot is in radius, m: IEEE Std 80. */
const FOOT_RADIUS = 0.08;
/** A sum is finished when its next term is this small against it. */
const NEGLIGIBLE = 1e-12;

/**
 * Reduction factor Cs of a thin surface layer by the series of images of IEEE Std 80-1986: resistivities of soil and
 * surface layer in ohm metres, depth of the layer in metres. The series converges, as the reflection factor is below 1.
 */
export function surfaceLayerFactorByImages(soil: number, surface: number, depth: number): number {
  const reflection = (soil - surface) / (soil + surface);
  let sum = 0;
  for (let image = 1; image < 1e6; image++) {
    const term = reflection ** image / Math.sqrt(1 + ((2 * image * depth) / FOOT_RADIUS) ** 2);
    sum += term;
    if (Math.abs(term) <= NEGLIGIBLE * Math.abs(1 + 2 * sum)) break;
  }
  return (1 + 2 * sum) / 0.96;
}
