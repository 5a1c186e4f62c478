/** Rejected: text, then `line:column` and perhaps the text after the fix. Lines are parted by |. */
type Rejected = [text: string, at: string, fixed?: string];
export interface Examples {
  readonly accepted: readonly string[];
  readonly rejected: readonly Rejected[];
}
