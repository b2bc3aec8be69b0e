/** A page as it looks, four bytes (red, green, blue, opacity) for each point of the raster. */
export interface DrawnPage {
  readonly width: number;
  readonly height: number;
  readonly points: Uint8Array;
}

export const POINTS_PER_INCH = 72;
