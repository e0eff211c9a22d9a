package fetch

import (
	"context"
	"errors"
	"time"
)

const (
	tries     = 4
	firstWait = time.Second
	// longestWait is the longest that a person in front of the screen is kept
	// waiting for another try; a service that asks for more is left alone.
	longestWait = time.Minute
)

// again makes up to n tries, waiting twice as long before each, or as long as
// the service asks. Only what can pass by itself is tried again.
func (c *Client) again(ctx context.Context, what string, n int, try func() error) error {
	wait := firstWait
	for left := n - 1; ; left-- {
		err := try()
		if err == nil || left <= 0 || ctx.Err() != nil || !passing(err) {
			return err
		}
		pause := max(wait, c.asked(err))
		if pause > longestWait {
			return err
		}
		c.options.Progress(Progress{What: what, Total: -1, Waiting: pause})
		if c.options.Wait(ctx, pause) != nil {
			return err
		}
		wait *= 2
	}
}

// passing says whether a failure can pass by itself.
func passing(err error) bool {
	var again *interrupted
	if errors.As(err, &again) {
		return true
	}
	kind, ok := KindOf(err)
	return ok && (kind == Offline || kind == Busy)
}

// asked is how long the service wants to be left alone.
func (c *Client) asked(err error) time.Duration {
	var e *Error
	if !errors.As(err, &e) || e.Until.IsZero() {
		return 0
	}
	return e.Until.Sub(c.options.Now())
}

// interrupted marks a transfer that stopped half-way.
type interrupted struct{ error }

func (i *interrupted) Unwrap() error { return i.error }
