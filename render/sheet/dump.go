package sheet

import (
	"bufio"
	"fmt"
	"io"
)

// Dump prints what stands where: page, box, x, y, width and height in mm, text.
func Dump(w io.Writer, d *Document) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "paper %.2f x %.2f, %d pages\n", d.Width, d.Height, len(d.Pages))
	for i, p := range d.Pages {
		for _, x := range p.Boxes {
			fmt.Fprintf(b, "%d %-14s %7.2f %7.2f %7.2f %7.2f", i+1, x.Name, x.X, x.Y, x.W, x.H)
			if x.Text != "" {
				fmt.Fprintf(b, " %q", x.Text)
			}
			fmt.Fprintln(b)
		}
	}
	return b.Flush()
}
