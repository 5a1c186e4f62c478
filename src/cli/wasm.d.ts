/** WebAssembly that the build puts into a bundle as bytes. */
declare module '*.wasm' {
  const bytes: Uint8Array;
  export default bytes;
}
