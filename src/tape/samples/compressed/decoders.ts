/**
 * Decoders of compressed sound, in WebAssembly. They are loaded only when there is such a sound:
 * this module is a bundle of its own, and nothing may import it but by import().
 */
export { FLACDecoder } from '@wasm-audio-decoders/flac';
export { OggVorbisDecoder } from '@wasm-audio-decoders/ogg-vorbis';
export { MPEGDecoder } from 'mpg123-decoder';
export { OpusDecoder } from 'opus-decoder';
