package cli

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	"github.com/alecthomas/kong"
)

// What is given on the command line is read here, so that everything that cannot
// be read is answered in the same words: what was given, and what it must be.

// wrongGiven is a value that a flag or an argument cannot take.
type wrongGiven struct {
	of   string // --seconds, or year
	got  string // "" where nothing was given
	must string
}

func (w *wrongGiven) Error() string {
	if w.got == "" {
		return fmt.Sprintf("%s needs %s after it", w.of, w.must)
	}
	return fmt.Sprintf("%s %q: it must be %s", w.of, w.got, w.must)
}

// givenReaders read what is given. A field says with the tag such what it must be,
// "a year such as 2026", where its type does not say enough.
func givenReaders() []kong.Option {
	usual := kong.NewRegistry().RegisterDefaults()
	text := usual.ForType(reflect.TypeFor[string]())
	whole := reading("a whole number such as 3", func(text string, target reflect.Value) error {
		n, err := strconv.ParseInt(text, 10, target.Type().Bits())
		target.SetInt(n)
		return err
	})
	number := reading("a number such as 2.5", func(text string, target reflect.Value) error {
		x, err := strconv.ParseFloat(text, 64)
		if err == nil && (math.IsNaN(x) || math.IsInf(x, 0)) {
			err = strconv.ErrRange
		}
		target.SetFloat(x)
		return err
	})
	return []kong.Option{
		kong.KindMapper(reflect.Int, whole),
		kong.KindMapper(reflect.Int64, whole),
		kong.KindMapper(reflect.Float64, number),
		kong.KindMapper(reflect.String, something("a word", text)),
		kong.KindMapper(reflect.Slice, something("a word", usual.ForType(reflect.TypeFor[[]string]()))),
		kong.NamedMapper("path", something("the name of a file or folder", usual.ForNamedValue("path", reflect.ValueOf("")))),
		kong.KindMapper(reflect.Bool, yesOrNo{}),
	}
}

// must is what a value must be: by its tag, as its help shows it, or by its type.
func must(v *kong.Value, usual string) string {
	if such := v.Tag.Get("such"); such != "" {
		return such
	}
	if v.Flag != nil && v.Target.Kind() != reflect.Int && v.Target.Kind() != reflect.Float64 && v.Flag.PlaceHolder != "" {
		return v.Flag.PlaceHolder
	}
	return usual
}

// nameOf is a flag or argument as it is written.
func nameOf(v *kong.Value) string {
	if v.Flag != nil {
		return "--" + v.Name
	}
	return v.Name
}

// something is a reader that refuses to read nothing.
func something(usual string, read kong.Mapper) kong.MapperFunc {
	return func(ctx *kong.DecodeContext, target reflect.Value) error {
		if !ctx.Scan.Peek().IsValue() {
			return &wrongGiven{nameOf(ctx.Value), "", must(ctx.Value, usual)}
		}
		return read.Decode(ctx, target)
	}
}

// reading reads one value into its field.
func reading(usual string, read func(text string, target reflect.Value) error) kong.MapperFunc {
	return something(usual, kong.MapperFunc(func(ctx *kong.DecodeContext, target reflect.Value) error {
		text := ctx.Scan.Pop().String()
		if read(text, target) != nil {
			return &wrongGiven{nameOf(ctx.Value), text, must(ctx.Value, usual)}
		}
		return nil
	}))
}

// yesOrNo reads a flag that stands alone.
type yesOrNo struct{}

// IsBool says that nothing needs to follow it.
func (yesOrNo) IsBool() bool { return true }

// Decode reads --flag, --flag=true or --flag=false.
func (yesOrNo) Decode(ctx *kong.DecodeContext, target reflect.Value) error {
	yes := true
	if ctx.Scan.Peek().Type == kong.FlagValueToken {
		text := ctx.Scan.Pop().String()
		var err error
		if yes, err = strconv.ParseBool(text); err != nil {
			return &wrongGiven{nameOf(ctx.Value), text, "given alone"}
		}
	}
	target.SetBool(yes)
	return nil
}

// plainly says what is wrong with a command line, and where to read how it is
// written.
func plainly(err error) error {
	var node *kong.Node
	if parse := (*kong.ParseError)(nil); errors.As(err, &parse) && parse.Context != nil {
		node = parse.Context.Selected()
	}
	if node == nil {
		return fmt.Errorf("%w; see haulm --help", bare(err))
	}
	if missing, ok := strings.CutPrefix(err.Error(), "expected "); ok {
		err = fmt.Errorf("%s needs %s", node.Path(), needs(node, missing))
	}
	return fmt.Errorf("%w; see %s --help", bare(err), node.FullPath())
}

// bare is an error without what the parser has set before it.
func bare(err error) error {
	if wrong := (*wrongGiven)(nil); errors.As(err, &wrong) {
		return wrong
	}
	return err
}

// needs is what a command lacks: one of its commands, or its arguments.
func needs(node *kong.Node, missing string) string {
	if len(node.Children) == 0 {
		return strings.ReplaceAll(missing, `"`, "")
	}
	var names []string
	for _, child := range node.Children {
		names = append(names, child.Name)
	}
	return "one of: " + strings.Join(names, ", ")
}
