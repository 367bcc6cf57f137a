/** Hands a file to the browser's downloads. */
export function offerDownload(content: Blob, fileName: string): void {
  const address = URL.createObjectURL(content);
  const link = document.createElement('a');
  link.href = address;
  link.download = fileName;
  link.click();
  // Revoked late: some browsers read the blob only after the click has returned.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
