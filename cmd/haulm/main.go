// Command haulm keeps a household in vegetables from its own ground the year
// round: it grows the garden through every year of its own local weather
// before a seed is sown.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
	"time"

	"haulm/internal/cli"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	screen, err := os.Stderr.Stat()
	terminal := err == nil && screen.Mode()&os.ModeCharDevice != 0
	os.Exit(cli.Run(ctx, os.Args[1:], cli.World{
		Out: os.Stdout, Err: os.Stderr, In: os.Stdin, Now: time.Now, Terminal: terminal,
	}))
}
