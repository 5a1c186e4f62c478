import { build } from 'esbuild';
import { describe, expect, it } from 'vitest';

/** What Node has and a browser has not. A name is replaced only where nothing else declares it. */
const OF_NODE = ['Buffer', 'process', 'global', '__dirname', '__filename', 'require'];

describe('the library', () => {
  it('needs nothing that a browser has not', async () => {
    const { outputFiles, metafile } = await build({
      entryPoints: ['src/index.ts'],
      bundle: true,
      write: false,
      metafile: true,
      // Fails where something of Node is imported.
      platform: 'browser',
      format: 'esm',
      legalComments: 'none',
      define: Object.fromEntries(OF_NODE.map((name) => [name, `onlyInNode_${name}`])),
      logLevel: 'silent',
    });
    expect(Object.keys(metafile.inputs).length).toBeGreaterThan(150);
    const [{ text }] = outputFiles;
    const uses = text.match(/.*\bonlyInNode_\w+.*/g) ?? [];
    // What asks first whether it runs in Node does without it elsewhere.
    expect(uses.filter((line) => !/typeof onlyInNode_|\bisNode \?/.test(line))).toEqual([]);
  });
});
