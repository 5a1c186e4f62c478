/** Every text of the page's own, in one table: a translation is one such file. */
export const TEXTS = {
  lang: 'en',
  title: 'Listwright: the bench in a browser',
  name: 'Listwright',
  lede: 'Write a listing, see that it fits, run it, play it into the tape socket, listen to an old tape.',
  noScript: 'This page is a program: it needs JavaScript, and runs wholly within your browser.',
  skip: 'To the listing',
  parts: 'Parts of the page',
  goTo: { listing: 'Listing', machine: 'Machine', socket: 'Socket', typing: 'Keys' },
  close: 'Close',
  working: 'Working…',
  fault: (words: string) => `Something went wrong on this page itself: ${words}`,
  listing: {
    title: 'Listing',
    editor: 'The listing. Tab leaves it; Control and Space complete a word.',
    placeholder: '10 PRINT "HELLO"',
    draft: 'Draft',
    new: 'New',
    delete: 'Delete',
    deleteTitle: 'Delete the draft',
    deleteAsk: (name: string) => `Delete the draft ${name}? It cannot be brought back.`,
    deleteYes: 'Delete it',
    deleteNo: 'Keep it',
    untitled: 'Empty listing',
    sample: 'Sample',
    sampleChoose: 'choose…',
    open: 'Open…',
    tidy: 'Tidy',
    save: 'Save listing',
    share: 'Share',
    shareTitle: 'A link that holds the listing',
    shareHelp:
      'The listing is within the link itself, behind the # sign, and is never sent to a server. Who opens it gets it as a draft.',
    copy: 'Copy the link',
    copied: 'Copied.',
    notCopied: 'This browser does not let the page copy: the link is marked, copy it by hand.',
    badLink: 'The link holds no listing that can be read.',
    tooLarge: 'That was not taken in: the text would be longer than that of any program can be.',
    notKept: 'This browser keeps no drafts here: save the listing as a file.',
    ram: 'RAM fitted',
    ramOwn: 'as listed',
  },
  findings: {
    title: 'Findings',
    none: 'No mistakes found.',
    waiting: 'Reading the listing…',
    empty: 'Nothing is written yet: open a sample, or type a line.',
    row: (row: number, column: number) => `${row}:${column}`,
    goTo: (row: number) => `Go to row ${row}`,
    severity: { error: 'error', warning: 'warning', info: 'note', hint: 'saving' },
    more: (count: number) => `and ${count} more`,
    saveAll: 'Apply all safe savings',
    noSavings: 'No safe saving is left.',
    makeFit: 'Apply the fewest savings that make it fit',
  },
  fit: {
    title: 'Memory',
    broken: 'The verdict waits until the errors are mended.',
    map: (ram: number) => `Where each of the ${ram} bytes goes`,
    area: 'area',
    least: 'least',
    most: 'most',
    noBound: 'no bound',
    spare: 'to spare',
    table: 'The map as a table',
    legend: 'hatched: what the run may add; a line across: the end of the RAM',
  },
  machine: {
    title: 'Machine',
    screen: 'The screen of the machine. While it has the focus, keys go to the machine.',
    screenText: 'The screen as text',
    empty: 'The screen is empty.',
    fast: 'FAST: no picture while it computes.',
    off: 'Press Run to start the listing.',
    run: 'Run',
    pause: 'Pause',
    goOn: 'Go on',
    step: 'Step',
    here: 'Run to here',
    restart: 'Restart',
    stop: 'Break',
    pace: 'Pace',
    paces: { 1: 'its own', 4: '4 times', 20: '20 times' },
    running: (line: number | undefined) =>
      line === undefined ? 'Running.' : `Running, line ${line}.`,
    paused: (line: number | undefined) =>
      line === undefined ? 'Paused.' : `Paused before line ${line}.`,
    pausedThere: 'Paused.',
    waits: {
      number: (line: number) => `Line ${line} waits for a number, and NEWLINE.`,
      string: (line: number) => `Line ${line} waits for a string, and NEWLINE.`,
      key: (line: number) => `PAUSE in line ${line}: any key ends it.`,
    },
    refused: (why: string) => `Not taken: ${why}.`,
    broken: 'The listing has errors: mend them first.',
    keyboard: 'The machine’s keyboard',
    now: (used: number, ram: number, spare: number) =>
      `${used} of ${ram} bytes in use, ${spare} to spare`,
    ledger: 'Bytes to spare over time',
    remark: 'Otherwise than on the machine',
  },
  socket: {
    title: 'Tape socket',
    caution:
      'Recordings are loud square-edged tones: start with the volume low, never with headphones on, and never feed a speaker-level or mains amplifier output into the tape socket.',
    playTitle: 'Play to the machine',
    understood: 'Volume is low, no headphones: play',
    cautionTitle: 'Before it plays',
    play: 'Play',
    stop: 'Stop',
    level: 'Level',
    invert: 'Upside down',
    rounded: 'Rounded edges',
    silent:
      'On a phone: turn silent mode and call sounds off, and the media volume up until the machine loads.',
    left: (time: string) => `${time} left`,
    played: 'It has been played to its end.',
    stopped: 'Stopped.',
    progress: 'How much has been played',
    saveImage: 'Save image',
    saveSound: 'Save sound',
    listenTitle: 'Listen to a tape',
    listen: 'Listen',
    listenStop: 'Stop listening',
    listenHelp:
      'Microphone or line in, at its plainest: no echo cancelling, no noise filter. Play the tape from before the program begins.',
    levels: {
      'nothing heard': 'nothing heard',
      'too quiet': 'too quiet: turn it up',
      good: 'good',
      'too loud': 'too loud: turn it down',
    },
    meter: 'Level',
    asking: 'Waiting for the microphone or line in…',
    hearing:
      'Listening… A program appears some seconds after its end; ten, where the tape is noisy.',
    reading: 'Reading what was heard…',
    noProgram:
      'There is no program in this sound: play it again, louder, with tone controls in the middle, from before the program begins.',
    onlyPiece: (from: string, to: string) =>
      `From ${from} to ${to} there is a piece of a program without its beginning: play it again from before the program begins.`,
    noDevices: 'browsers give one only to a page that comes by HTTPS or from this computer itself',
    /** By the browser's names for what went wrong. */
    microphoneFaults: {
      NotAllowedError:
        'this browser does not let the page listen. Allow it beside the page’s address, then press Listen again.',
      NotFoundError: 'none is plugged in.',
      NotReadableError: 'another program holds it, or it does not work.',
    } as Readonly<Record<string, string>>,
    noMicrophone: (why: string) => `No sound can be had from a microphone or line in: ${why}`,
    heard: (name: string, bytes: number, doubts: { bytes: number; name: number }) => {
      const ofBytes =
        doubts.bytes === 1
          ? '1 byte'
          : `${doubts.bytes || 'no'} byte${doubts.bytes === 0 ? '' : 's'}`;
      const ofName = doubts.name === 0 ? '' : ' and the name';
      return `“${name}”, ${bytes} bytes, ${ofBytes}${ofName} in doubt`;
    },
    openHeard: 'Open its listing',
    saveHeard: 'Save its image',
    drop: 'Drop any file here: a listing, an image, a recording, the text of a scanned page.',
    choose: 'Choose a file…',
    noFile: (name: string) =>
      `${name} cannot be read: it is a folder, or no longer there. Drop the files themselves.`,
    cannotRead: (name: string) =>
      `${name} is no listing, no program image, no text in UTF-8 and no sound.`,
    cannotDecode: (name: string, kind: string) =>
      `${name} is ${kind} sound, which this browser does not decode: save it as WAV and drop that here.`,
    opened: (name: string) => `${name} is open as a draft.`,
  },
  pageOfText: {
    title: 'A printed listing, read again',
    changed: (changes: number) =>
      changes === 1 ? 'One change was made.' : `${changes} changes were made.`,
    left: (questions: number) =>
      questions === 0
        ? 'Nothing is left to ask.'
        : questions === 1
          ? 'One question is left: choose what the page says.'
          : `${questions} questions are left: choose what the page says.`,
    inLines: (lines: readonly number[]) =>
      lines.length === 0 ? '' : ` in line${lines.length === 1 ? '' : 's'} ${lines.join(', ')}`,
    everywhere: (candidate: string) => `${candidate} everywhere`,
    asIs: 'leave it',
    asPrinted: 'each as printed',
    result: 'The listing',
    open: 'Open as a draft',
  },
  typing: {
    title: 'Keyboard test',
    help: 'The keys that this listing needs on the machine’s own keyboard, one after another. Press each on the machine, then go on here.',
    start: 'Start',
    next: 'Next key',
    back: 'Back',
    line: 'Line',
    done: 'That was the last key: every line is typed.',
    noListing: 'The listing has no line that can be typed.',
    press: (key: string, shift: boolean) => (shift ? `SHIFT and ${key}` : key),
    gives: (gives: string, mode: string) => `gives ${gives} (cursor ${mode})`,
    place: (index: number, total: number, line: number) => `Line ${line}, key ${index} of ${total}`,
    outOfReach: (what: string, why: string) => `${what}: ${why}`,
  },
  foot: {
    private: 'Nothing that you write or play leaves this computer.',
    danger:
      'Old mains supplies and television tubes hold dangerous voltage: that work is for people licensed or trained for it, under local rules.',
    licences: 'Licences',
  },
} as const;
