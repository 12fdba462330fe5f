/** What has to be said about the sheet, the job or the shelf, until the reader has put it away. */
import { signal } from "@preact/signals";

export const notices = signal<{
  readonly job?: string;
  readonly page?: string;
  readonly shelf?: string;
}>({});
