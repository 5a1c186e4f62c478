/** Text as it stands in HTML and SVG, also within the quotes of an attribute. */
const NAMED: Record<string, string> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

export function escapeMarkup(text: string): string {
  return text.replace(/[&<>"']/g, (character) => NAMED[character]);
}
