package cli

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	"github.com/alecthomas/kong"

	"haulm/internal/garden"
	"haulm/internal/unit"
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
	parse := (*kong.ParseError)(nil)
	if !errors.As(err, &parse) || parse.Context == nil {
		return fmt.Errorf("%w; see haulm --help", bare(err))
	}
	word, left := leftWord(err)
	node := parse.Context.Selected()
	switch {
	case node == nil && left:
		return fmt.Errorf("%w; see haulm --help", noCommand(parse.Context.Model.Node, word))
	case node == nil:
		return fmt.Errorf("%w; see haulm --help", bare(err))
	case left && len(node.Children) > 0:
		err = noCommand(node, word)
	case left:
		err = leftOver(node, word)
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
	return "one of: " + strings.Join(names(node.Children), ", ")
}

// leftWord is the word that the parser had no use for, without what it thinks was
// meant.
func leftWord(err error) (word string, left bool) {
	word, left = strings.CutPrefix(err.Error(), "unexpected argument ")
	word, _, _ = strings.Cut(word, ", did you mean")
	return word, left
}

// leftOver is what to say of a word that a command does not take: a name of
// several words without its quotes, mostly.
func leftOver(node *kong.Node, word string) error {
	takes := "no words, only flags"
	if len(node.Positional) > 0 {
		var asked []string
		for _, p := range node.Positional {
			asked = append(asked, "<"+p.Name+">")
		}
		takes = unit.Listed(asked) + ", and names of several words in quotes"
	}
	words := fmt.Sprintf("%s does not take %q: it takes %s", node.Path(), word, takes)
	if example := exampleOf(node); example != "" {
		words += ", as in " + example
	}
	return errors.New(words)
}

// noCommand is what to say of a command that there is not.
func noCommand(of *kong.Node, word string) error {
	known := names(of.Children)
	words := fmt.Sprintf("there is no command %q", strings.TrimSpace(strings.TrimPrefix(of.FullPath(), "haulm")+" "+word))
	switch near := garden.Nearest(word, known); {
	case near != "":
		words += fmt.Sprintf(" (did you mean %q?)", near)
	case of.Parent != nil:
		words += "; it is one of: " + strings.Join(known, ", ")
	}
	return errors.New(words)
}

// exampleOf is how the command's help shows it used.
func exampleOf(node *kong.Node) string {
	first, _, _ := strings.Cut(node.Detail, "\n")
	example, ok := strings.CutPrefix(first, "Example: ")
	if !ok {
		return ""
	}
	return example
}

func names(nodes []*kong.Node) []string {
	var out []string
	for _, n := range nodes {
		out = append(out, n.Name)
	}
	return out
}
