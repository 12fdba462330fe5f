/** What the editor of a working is given: apart from it, since the editor is loaded when it is opened. */
export interface EditorProps {
  readonly text: string;
  readonly label: string;
  /** Line of the working at which something is wrong, from 1, and the words for it. */
  readonly wrong: { readonly line: number; readonly words: string } | undefined;
  readonly onChange: (text: string) => void;
}
