/** Where the page comes from. */
export const isFromFiles = location.protocol === 'file:';
