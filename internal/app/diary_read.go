package app

import (
	"context"
	"fmt"
	"io"
	"io/fs"
	"os"

	"haulm/internal/diary"
	"haulm/internal/season"
	"haulm/internal/store"
	"haulm/internal/unit"
)

// DiaryRead is what came of reading a diary in.
type DiaryRead struct {
	Added   int
	Already int // lines that the diary had
	Photos  int
	Doubts  []string
	Notes   []string // what became of plantings of another garden file that it speaks of
}

// Says puts it into a sentence.
func (r *DiaryRead) Says() string {
	words := "nothing new: the diary has " + unit.Counted(r.Already, "line", "lines") + " of the file already"
	if r.Added > 0 {
		words = unit.Counted(r.Added, "line", "lines") + " written in the diary"
		if r.Photos > 0 {
			words += ", with " + unit.Counted(r.Photos, "photo", "photos")
		}
		if r.Already > 0 {
			words += fmt.Sprintf("; %d more were there already", r.Already)
		}
	}
	return words
}

// ReadDiary reads a diary written as a table, with its photos beside it (nil
// for none), and adds what the diary does not have yet: all of it or nothing,
// and nothing twice. What stands in the diary is left as it is. UndoNote takes
// all of it out again. Errors call the table by its name.
func (d *Desk) ReadDiary(table io.Reader, name string, beside fs.FS) (*DiaryRead, error) {
	if d.file == nil {
		return nil, errNotKept
	}
	d.reading.Lock()
	defer d.reading.Unlock()
	c, err := d.DiaryContext()
	if err != nil {
		return nil, err
	}
	rows, doubts, err := diary.ReadCSV(table, c)
	if err != nil {
		return nil, fmt.Errorf("%s, %w", name, err)
	}
	lines, err := d.Diary()
	if err != nil {
		return nil, err
	}
	in := newReadingIn(c, lines, name, beside)
	for i := range doubts {
		in.doubts = append(in.doubts, name+", "+doubts[i])
	}
	if err := in.take(rows); err != nil {
		return nil, fmt.Errorf("%s, %w", name, err)
	}
	drop, err := in.cleanPhotos()
	defer drop()
	if err != nil {
		return nil, fmt.Errorf("%s, %w", name, err)
	}
	err = d.file.AddDiaryLines(context.Background(), len(in.fresh), in.line, d.now())
	if err != nil {
		return nil, fmt.Errorf("%s, %w", name, err)
	}
	read := &DiaryRead{Added: len(in.fresh), Already: len(rows) - len(in.fresh), Photos: in.photos, Doubts: in.doubts}
	read.Notes, err = d.adoptedWords(in.fresh)
	return read, err
}

// readingIn is a table on its way into the diary.
type readingIn struct {
	context diary.Context
	beside  fs.FS
	name    string // of the table
	last    int64  // number of the diary's last line
	known   map[diary.Entry][]string
	became  map[int64]string // the diary's planting of a number in the file that begins one; "" = it will be written
	begins  map[int64]int    // of those to be written, the place among fresh
	fresh   []diary.Row
	photos  int
	waiting *os.File             // photos fit to keep, one after another; nil without any
	cleaned map[int]cleanedPhoto // of those among fresh
	doubts  []string
}

func newReadingIn(c diary.Context, lines []store.DiaryLine, name string, beside fs.FS) *readingIn {
	in := &readingIn{
		context: c, beside: beside, name: name, known: knownLines(lines),
		became: map[int64]string{}, begins: map[int64]int{}, cleaned: map[int]cleanedPhoto{},
	}
	for _, line := range lines {
		in.last = max(in.last, line.ID)
	}
	return in
}

// line is the i-th new line as the file is to keep it.
func (in *readingIn) line(i int, written []int64) (store.NewLine, error) {
	r := in.fresh[i]
	out := store.NewLine{Entry: r.Entry}
	number := season.NotedBy(r.Planting)
	if planting, inFile := in.became[number]; inFile && planting != "" {
		out.Planting = planting
	} else if inFile {
		out.Planting = season.NotedKey(written[in.begins[number]])
	}
	out.ID, out.Photo = 0, false
	var err error
	out.Mime, out.Image, err = in.takeWaiting(i)
	return out, err
}
