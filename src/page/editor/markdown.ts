/**
 * The little Markdown that our own language server writes, as HTML: paragraphs, `code`, **bold**.
 * It stands in for a whole Markdown package, and nothing in a text becomes markup by it.
 */
import { escapeMarkup } from '../../markup/markup.js';

/** The shape in which the editor's client asks for it. */
export class Marked {
  parse(text: string): string {
    return text
      .split(/\n{2,}/)
      .map((paragraph) => `<p>${marked(paragraph)}</p>`)
      .join('');
  }
}

function marked(paragraph: string): string {
  // Code first: what stands in it is never bold.
  const pieces = paragraph.split(/(``.+?``|`[^`]+`)/s);
  return pieces
    .map((piece, index) => {
      if (index % 2 === 1) return `<code>${escapeMarkup(piece.replace(/^`+ ?| ?`+$/g, ''))}</code>`;
      return escapeMarkup(piece)
        .replace(/\*\*(.+?)\*\*/gs, '<strong>$1</strong>')
        .replace(/\\([\\`*_{}[\]()#+\-.!|&lt;])/g, '$1')
        .replaceAll('\n', '<br>');
    })
    .join('');
}
