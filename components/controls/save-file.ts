/** Hands content to the browser's own download, under a name. */
export function saveFile(name: string, content: Blob): void {
  const url = URL.createObjectURL(content);
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}

/** An SVG document as a PNG picture, `factor` times its own size. */
export async function pngOf(svgText: string, factor: number): Promise<Blob> {
  const url = URL.createObjectURL(new Blob([svgText], { type: 'image/svg+xml' }));
  try {
    const picture = new Image();
    picture.src = url;
    await picture.decode();
    const canvas = document.createElement('canvas');
    canvas.width = Math.round(factor * picture.width);
    canvas.height = Math.round(factor * picture.height);
    canvas.getContext('2d')!.drawImage(picture, 0, 0, canvas.width, canvas.height);
    return await new Promise((resolve, reject) => {
      canvas.toBlob((blob) => (blob ? resolve(blob) : reject(new Error('The picture is too large.'))), 'image/png');
    });
  } finally {
    URL.revokeObjectURL(url);
  }
}
