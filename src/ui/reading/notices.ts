/** What has to be said about the sheet or the job, until the reader has put it away. */
import { signal } from "@preact/signals";

export const notices = signal<{ readonly job?: string; readonly page?: string }>({});
