package readings

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"iter"

	"haulm/internal/calendar"
)

const (
	maxLine  = 64 << 10  // a line longer than this is no day of weather
	maxBytes = 512 << 20 // unpacked; the longest records known are under 20 MB
)

// lines hands out a text one line at a time in bounded memory.
type lines struct {
	in    *bufio.Reader
	n     int // number of the line last given
	bytes int
	cut   bool // the line last given has no line end: it is the file's last
}

// next is the next line without its end, valid until the next call. It gives
// io.EOF after the last.
func (l *lines) next() ([]byte, error) {
	line, err := l.in.ReadSlice('\n')
	switch {
	case errors.Is(err, bufio.ErrBufferFull):
		return nil, fmt.Errorf("line %d is longer than %d kB; this is not a daily weather record", l.n+1, maxLine>>10)
	case errors.Is(err, io.EOF) && len(line) > 0:
		l.cut = true
	case err != nil:
		return nil, err
	}
	l.n++
	l.bytes += len(line)
	if l.bytes > maxBytes {
		return nil, fmt.Errorf("the file is larger than %d MB; give the record of one station", maxBytes>>20)
	}
	if bytes.IndexByte(line, 0) >= 0 {
		return nil, errBinary
	}
	return bytes.TrimRight(line, "\r\n\x1a"), nil
}

// rest hands out the lines that are left, each as next does. After an error
// there is none.
func (l *lines) rest() iter.Seq2[[]byte, error] {
	return func(yield func([]byte, error) bool) {
		for {
			line, err := l.next()
			if errors.Is(err, io.EOF) || !yield(line, err) || err != nil {
				return
			}
		}
	}
}

// short deals with a line that lacks some of what it should hold: the file's
// last was cut off, any other is left out.
func (l *lines) short(b *builder, what string) error {
	if l.cut {
		return l.half()
	}
	b.report.reject(l.n, calendar.None, what+": left out")
	return nil
}

// half is the error for a last line that stops in the middle.
func (l *lines) half() error {
	return fmt.Errorf("the file stops in the middle of line %d; it was cut off: fetch or save it again", l.n)
}
