/** Programs that are installed on this system. Nothing goes through a shell. */
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';

/** Where a command stands on the search path. */
export function findCommand(command: string): string | undefined {
  const name = process.platform === 'win32' ? `${command}.exe` : command;
  for (const folder of (process.env.PATH ?? '').split(delimiter)) {
    if (folder === '') continue;
    const path = join(folder, name);
    try {
      accessSync(path, constants.X_OK);
      return path;
    } catch {
      // Not in this folder; the next may have it.
    }
  }
  return undefined;
}

/** A file's name as it is typed in a command. */
export function typedName(path: string): string {
  return /^[\w./+:@%-]+$/.test(path) && !path.startsWith('-')
    ? path
    : `'${path.replaceAll("'", "'\\''")}'`;
}
