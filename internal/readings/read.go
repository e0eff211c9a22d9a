package readings

import (
	"bufio"
	"bytes"
	"compress/flate"
	"compress/gzip"
	"errors"
	"fmt"
	"io"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// Options are what a reader may be told.
type Options struct {
	// Today refuses days after it and settles two-digit years. The zero Date
	// and None mean that it is not known.
	Today calendar.Date
}

func (o Options) knowsToday() bool { return o.Today != 0 && o.Today.Known() }

// hasBeen refuses a day after today.
func (o Options) hasBeen(d calendar.Date, line int) error {
	if o.knowsToday() && d > o.Today {
		return fmt.Errorf("line %d: %s is after today, %s; a record holds only days that have been", line, d, o.Today)
	}
	return nil
}

// Read reads a daily record in any format of the table in format.go, packed
// with gzip or not. The name is what errors call it. Values that cannot be
// are left out (NaN) and listed in the Report; a file that cannot be trusted
// as a whole is an error.
func Read(r io.Reader, name string, options ...Options) (*weather.Record, *Report, error) {
	rec, report, err := read(r, theOptions(options))
	return named(name, rec, report, err)
}

// theOptions are those of a reader that may be told none.
func theOptions(given []Options) Options {
	if len(given) == 0 {
		return Options{}
	}
	return given[0]
}

// named gives what was read of a file, or its fault, the file's name.
func named(name string, rec *weather.Record, report *Report, err error) (*weather.Record, *Report, error) {
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", name, plainError(err))
	}
	if rec.Name == "" {
		rec.Name = name
	}
	return rec, report, nil
}

func read(r io.Reader, o Options) (*weather.Record, *Report, error) {
	l, head, err := open(r)
	if err != nil {
		return nil, nil, err
	}
	f, err := formatOf(head)
	if err != nil {
		return nil, nil, err
	}
	b := newBuilder(o, f.name)
	if err := f.read(l, b); err != nil {
		return nil, nil, err
	}
	return b.finish()
}

// open unpacks a file and shows its beginning.
func open(r io.Reader) (*lines, string, error) {
	in, err := unpack(r)
	if err != nil {
		return nil, "", err
	}
	head, err := in.Peek(headBytes)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, "", err
	}
	if err := checkText(head); err != nil {
		return nil, "", err
	}
	return &lines{in: in}, string(head), nil
}

// headBytes is how much of a file is looked at to tell its format.
const headBytes = 16 << 10

// unpack sees through gzip and a byte order mark.
func unpack(r io.Reader) (*bufio.Reader, error) {
	in := bufio.NewReaderSize(r, maxLine)
	if magic, _ := in.Peek(2); bytes.Equal(magic, []byte{0x1f, 0x8b}) {
		z, err := gzip.NewReader(in)
		if err != nil {
			return nil, err
		}
		in = bufio.NewReaderSize(z, maxLine)
	}
	if mark, _ := in.Peek(3); bytes.Equal(mark, []byte("\xef\xbb\xbf")) {
		_, _ = in.Discard(3)
	}
	return in, nil
}

func checkText(head []byte) error {
	switch {
	case len(bytes.TrimSpace(head)) == 0:
		return errors.New("the file is empty; give a daily weather record")
	case bytes.HasPrefix(head, []byte("PK\x03\x04")):
		return errors.New("this is a zip archive; unpack it and give the record inside")
	case bytes.HasPrefix(head, []byte("\xff\xfe")) || bytes.HasPrefix(head, []byte("\xfe\xff")):
		return errors.New("the file is in UTF-16; save it as plain text (UTF-8)")
	}
	control := 0
	for _, c := range head {
		if c == 0 || c < ' ' && c != '\n' && c != '\r' && c != '\t' && c != '\f' && c != 0x1a {
			control++
		}
	}
	if control > len(head)/200 {
		return errBinary
	}
	return nil
}

var errBinary = errors.New("this is not text but binary data; give a daily weather record as .dly, .csv or .txt, or one of these packed with gzip")

// plainError words what the packing layer says for the person who has the file.
func plainError(err error) error {
	var corrupt flate.CorruptInputError
	switch {
	case errors.Is(err, io.ErrUnexpectedEOF):
		return errors.New("the packed file is cut off before its end; fetch it again")
	case errors.Is(err, gzip.ErrChecksum), errors.Is(err, gzip.ErrHeader), errors.As(err, &corrupt):
		return errors.New("the packed file is damaged; fetch it again")
	}
	return err
}
