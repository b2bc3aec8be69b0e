/**
 * The program that serves, with its arguments.
 *
 * @param {readonly string[] | undefined} command as the settings have it
 */
export function serverOf(command) {
  const [program = 'surgenote', ...before] = command ?? [];
  // On Windows the commands of npm packages are scripts, which only a shell starts.
  const options = process.platform === 'win32' ? { options: { shell: true } } : {};
  return { command: program, args: [...before, 'language-server'], ...options };
}
