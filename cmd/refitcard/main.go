// Refitcard compiles workshop procedures, written in Markdown, into job cards and pick lists, and says what is wrong with them.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"golang.org/x/term"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	c := Command{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Env: os.LookupEnv, Width: terminalWidth}
	os.Exit(c.Run(ctx, os.Args[1:]))
}

// terminalWidth gives the columns of the terminal that w writes to, 0 when it is none.
func terminalWidth(w any) int {
	f, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return 0
	}
	width, _, err := term.GetSize(int(f.Fd()))
	if err != nil || width < 20 {
		return 80
	}
	return width
}
