/** What a command's exit status says. */
export const EXIT = {
  done: 0,
  /** The source is wrong, or a requirement is not met where `--require complies` asks for it. */
  sourceWrong: 1,
  usage: 2,
  /** Something outside failed: browser, file, git. */
  outside: 3,
  /** A bug of ours. */
  bug: 4,
} as const;
