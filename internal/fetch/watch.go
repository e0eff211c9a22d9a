package fetch

import (
	"context"
	"errors"
	"io"
	"time"
)

// watch is an answer's body that is given up when nothing comes for a while.
type watch struct {
	body  io.ReadCloser
	ctx   context.Context
	timer *time.Timer
	after time.Duration
}

// Read reads on and winds the clock up again.
func (w *watch) Read(p []byte) (int, error) {
	n, err := w.body.Read(p)
	if n > 0 {
		w.heard()
	}
	if err != nil && !errors.Is(err, io.EOF) && errors.Is(context.Cause(w.ctx), errStalled) {
		err = errStalled
	}
	return n, err
}

// Close lets go of the connection.
func (w *watch) Close() error { return w.body.Close() }

func (w *watch) heard() { w.timer.Reset(w.after) }
