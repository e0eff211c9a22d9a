package web

import (
	"context"
	"errors"
	"net"
	"net/http"
	"time"

	"haulm/internal/app"
)

// How long a connection may idle or dawdle, and how long the last pages may
// take when the program ends.
const (
	headerTime = 10 * time.Second
	idleTime   = 2 * time.Minute
	stopTime   = 5 * time.Second
)

// Serve shows a desk on the listener until ctx ends.
func Serve(ctx context.Context, listener net.Listener, desk *app.Desk) error {
	return New(desk, Options{}).Serve(ctx, listener)
}

// Serve answers on the listener until ctx ends, then lets what is under way
// finish. Which addresses can reach the pages is the listener's business.
func (p *Pages) Serve(ctx context.Context, listener net.Listener) error {
	server := &http.Server{
		Handler: p, ReadHeaderTimeout: headerTime, IdleTimeout: idleTime,
		BaseContext: func(net.Listener) context.Context { return ctx },
	}
	stopped := make(chan struct{})
	go func() {
		defer close(stopped)
		<-ctx.Done()
		last, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopTime)
		defer cancel()
		p.Stop(last)
		if server.Shutdown(last) != nil {
			_ = server.Close() // whoever still dawdles is cut off
		}
	}()
	err := server.Serve(listener)
	if errors.Is(err, http.ErrServerClosed) {
		<-stopped
		return nil
	}
	return err
}
