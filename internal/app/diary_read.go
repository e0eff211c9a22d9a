package app

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"

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
	in := &readingIn{context: c, beside: beside, name: name, known: knownLines(lines), became: map[int64]string{}, begins: map[int64]int{}}
	for _, line := range lines {
		in.last = max(in.last, line.ID)
	}
	for i := range doubts {
		in.doubts = append(in.doubts, name+", "+doubts[i])
	}
	if err := in.take(rows); err != nil {
		return nil, fmt.Errorf("%s, %w", name, err)
	}
	err = d.file.AddDiaryLines(context.Background(), len(in.fresh), in.line, d.now())
	if err != nil {
		return nil, fmt.Errorf("%s, %w", name, err)
	}
	return &DiaryRead{Added: len(in.fresh), Already: len(rows) - len(in.fresh), Photos: in.photos, Doubts: in.doubts}, nil
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
	doubts  []string
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
	if r.PhotoFile == "" {
		return out, nil
	}
	raw, err := in.photo(r.PhotoFile)
	if err == nil {
		out.Mime, out.Image, err = CleanPhoto(raw)
	}
	if err != nil {
		return out, diary.Fault{Line: r.Line, What: fmt.Sprintf("photo %s: %v", r.PhotoFile, err)}
	}
	return out, nil
}

// photo reads a photo beside the table.
func (in *readingIn) photo(name string) ([]byte, error) {
	at := path.Clean(strings.ReplaceAll(name, `\`, "/"))
	if !fs.ValidPath(at) {
		return nil, fmt.Errorf("the photo %q lies outside the diary’s folder: put it beside the diary, or empty the cell", name)
	}
	notThere := fmt.Errorf("the photo %q is not beside the diary: put it there, or empty the cell", name)
	if in.beside == nil {
		return nil, notThere
	}
	file, err := in.beside.Open(at)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, notThere
	}
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(io.LimitReader(file, MostPhotoBytes+1))
}
