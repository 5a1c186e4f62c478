// The main job on one sample: listing → image → recording → image → listing, into out/.
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const launcher = join(root, 'bin', 'listwright.js');
const out = (name) => join('out', name);
mkdirSync(join(root, 'out'), { recursive: true });

function step(what, ...args) {
  console.log(`\n${what}\n  $ npx listwright ${args.join(' ')}`);
  const { status, stdout, stderr } = spawnSync(process.execPath, [launcher, ...args], {
    cwd: root,
    encoding: 'utf8',
  });
  for (const line of `${stdout}${stderr}`.split('\n')) if (line !== '') console.log(`  ${line}`);
  if (status !== 0) {
    console.error(`demo: that step ended with exit status ${status}`);
    process.exit(1);
  }
}

function written(name) {
  const { size } = statSync(join(root, out(name)));
  console.log(`  → ${out(name)}, ${size.toLocaleString('en')} bytes`);
}

function mustEqual(what, one, other) {
  const [left, right] = [one, other].map((name) => readFileSync(join(root, name)));
  if (!left.equals(right)) {
    console.error(`demo: ${what}: ${one} and ${other} differ`);
    process.exit(1);
  }
  console.log(
    `  = ${what}: ${relative('.', one)} and ${other} are equal, ${left.length.toLocaleString('en')} bytes`,
  );
}

const listing = join('samples', 'ruler.bas');
console.log(`The listing is ${listing}: the display ruler of the bench.`);
step(
  '1. Listing to image: the bytes that the machine itself would send to tape',
  'tokenise',
  listing,
  '-o',
  out('ruler.img'),
);
written('ruler.img');
step(
  '2. Image to recording: the sound that the tape socket takes',
  'record',
  out('ruler.img'),
  '-o',
  out('ruler.wav'),
);
written('ruler.wav');
step('3. Recording back to image', 'recover', out('ruler.wav'), '-o', out('back.img'));
written('back.img');
step('4. Image back to listing', 'detokenise', out('back.img'), '-o', out('back.bas'));
written('back.bas');
step(
  '5. And that listing to an image once more',
  'tokenise',
  out('back.bas'),
  '-o',
  out('again.img'),
);
console.log('\nThe end equals the start:');
mustEqual('through the sound', out('ruler.img'), out('back.img'));
mustEqual('through the listing', out('ruler.img'), out('again.img'));
