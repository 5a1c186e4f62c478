/**
 * The pages of an Ogg file as it comes, piece by piece, and the packets in them.
 * Source: RFC 3533, section 6.
 */
import { joined } from '../../../machine/bytes.js';
import { letters, view } from '../plain-samples.js';

export interface OggPage {
  /** The page as it stands in the file. */
  readonly bytes: Uint8Array;
  /** Packets that are whole with this page. */
  readonly packets: readonly Uint8Array[];
}

const HEAD = 27;
/** No packet of sound is longer; what claims to be is not kept. */
const LARGEST_PACKET = 1 << 20;
const CONTINUED = 1;
const LAST = 4;

export class OggReader {
  /** Has the last page been seen? */
  isEnded = false;
  /** Places where pages are missing or damaged. */
  lost = 0;

  private held = new Uint8Array(0);
  private serial: number | undefined;
  private next = 0;
  private begun: Uint8Array[] = [];
  /** Bytes passed over that belong to no page. */
  private isAstray = false;

  constructor(private readonly take: (page: OggPage) => void) {}

  push(bytes: Uint8Array): void {
    const all = joined([this.held, bytes]);
    let at = 0;
    while (at + HEAD <= all.length) {
      const size = pageSize(all, at);
      if (size === undefined) {
        this.isAstray = true;
        at++;
        continue;
      }
      if (at + size > all.length) break;
      const page = all.subarray(at, at + size);
      if (checkOf(page) === view(page).getUint32(22, true)) {
        this.page(page);
        at += size;
      } else {
        this.isAstray = true;
        at++;
      }
    }
    this.held = all.slice(at);
  }

  private page(bytes: Uint8Array): void {
    const fields = view(bytes);
    const serial = fields.getUint32(14, true);
    const number = fields.getUint32(18, true);
    this.serial ??= serial;
    // Another stream beside the first, such as a picture.
    if (serial !== this.serial || this.isEnded) return;
    if (this.isAstray || number !== this.next) {
      if (number !== this.next || this.next > 0) this.lost++;
      this.begun = [];
    }
    this.isAstray = false;
    this.next = number + 1;
    this.isEnded = (bytes[5] & LAST) !== 0;
    this.take({ bytes: bytes.slice(), packets: this.packets(bytes) });
  }

  private packets(bytes: Uint8Array): Uint8Array[] {
    const packets: Uint8Array[] = [];
    const parts = bytes.subarray(HEAD, HEAD + bytes[26]);
    let at = HEAD + parts.length;
    // The rest of a packet whose beginning was lost is of no use.
    let isUseless = (bytes[5] & CONTINUED) !== 0 && this.begun.length === 0;
    if ((bytes[5] & CONTINUED) === 0) this.begun = [];
    for (const size of parts) {
      if (!isUseless) this.begun.push(bytes.slice(at, at + size));
      at += size;
      if (size === 255) continue;
      if (!isUseless) packets.push(joined(this.begun));
      isUseless = false;
      this.begun = [];
    }
    if (this.begun.length * 255 > LARGEST_PACKET) this.begun = [];
    return packets;
  }
}

/** Bytes of the page that begins at `at`, undefined where none does; `at` has a whole head. */
function pageSize(bytes: Uint8Array, at: number): number | undefined {
  if (bytes[at] !== 0x4f || letters(bytes, at) !== 'OggS' || bytes[at + 4] !== 0) return undefined;
  const parts = bytes[at + 26];
  let size = HEAD + parts;
  // A table that is not there yet counts as nothing: the page is then longer than the bytes are.
  if (at + size > bytes.length) return size;
  for (const part of bytes.subarray(at + HEAD, at + HEAD + parts)) size += part;
  return size;
}

const CRC_TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let value = byte << 24;
  for (let bit = 0; bit < 8; bit++) value = value < 0 ? (value << 1) ^ 0x04c11db7 : value << 1;
  return value;
});

/** The checksum of a page, whose own four bytes of it count as zeros. */
function checkOf(page: Uint8Array): number {
  let check = 0;
  for (let i = 0; i < page.length; i++) {
    const byte = i >= 22 && i < 26 ? 0 : page[i];
    check = (check << 8) ^ CRC_TABLE[(check >>> 24) ^ byte];
  }
  return check >>> 0;
}
