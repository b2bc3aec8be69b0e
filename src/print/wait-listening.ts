const PIECE_MILLISECONDS = 250;

/**
 * A pause in which only the time counts when this process could have heard what it waits for: it may be at work on something else
 * meanwhile. It does not keep the process alive.
 */
export async function waitListening(milliseconds: number): Promise<void> {
  for (let left = milliseconds; left > 0; left -= PIECE_MILLISECONDS)
    await new Promise((resolve) => {
      setTimeout(resolve, Math.min(left, PIECE_MILLISECONDS)).unref();
    });
}
