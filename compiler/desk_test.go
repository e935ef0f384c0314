package compiler

import (
	"bytes"
	"fmt"
	"math/rand"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

// TestDeskSaysWhatAWholeCompileSays types at random places of the sample library and of the cases, and holds all that a desk keeps
// and finds against a compile of the whole text.
func TestDeskSaysWhatAWholeCompileSays(t *testing.T) {
	typed, quick := 0, 0
	rounds := 20
	if os.Getenv("REFITCARD_LONG") != "" {
		rounds = 2000
	}
	for _, root := range []string{"../procedures", "../testdata/clean", "../testdata/faulty"} {
		names, err := filepath.Glob(root + "/*.md")
		if err != nil || len(names) == 0 {
			t.Fatal(root, err)
		}
		lib := Open(os.DirFS(root), func(path string) string { return path })
		for i, full := range names {
			if root != "../procedures" && i%5 != 0 && os.Getenv("REFITCARD_LONG") == "" {
				continue
			}
			name := filepath.Base(full)
			sound, err := os.ReadFile(full)
			if err != nil {
				t.Fatal(err)
			}
			text, r := sound, rand.New(rand.NewSource(int64(i)))
			desk := NewDesk(name)
			for n := range rounds {
				before := desk.kept
				got := desk.Begin(lib, text, rules.Options{})()
				whole := lib.read(name, text)
				want := whole.judge(lib, rules.Options{})
				typed++
				if desk.kept == before {
					quick++
				}
				c := comparer{seen: map[[2]uintptr]bool{}}
				c.same("", reflect.ValueOf(desk.kept.main), reflect.ValueOf(whole.main))
				c.same("", reflect.ValueOf(got.Proc), reflect.ValueOf(want.Proc))
				c.same("", reflect.ValueOf(got.Findings), reflect.ValueOf(want.Findings))
				lists(&c, desk.kept.job, whole.job)
				if c.why != "" {
					t.Fatalf("%s, edit %d (quick: %v): %s\n%s", name, n, desk.kept == before, c.why, text)
				}
				if text = retyped(r, text); n%10 == 9 {
					text = sound // or all would be broken before long
				}
			}
		}
	}
	t.Logf("%d of %d texts were taken in by one step", quick, typed)
	if quick*3 < typed {
		t.Errorf("only %d of %d texts were taken in by one step", quick, typed)
	}
}

// TestDeskHoldsWhatItHasInUse types one entry for a long time, then all of them: only words that still stand somewhere hold a text
// of their time in memory, and they do not pile up.
func TestDeskHoldsWhatItHasInUse(t *testing.T) {
	lib := Open(fstest.MapFS{}, func(path string) string { return path })
	var b strings.Builder
	b.WriteString("---\ntitle: Wipe the rail\nnumber: WR-1\nrevision: A\n---\n\n## Work\n\n")
	for range 400 {
		b.WriteString("1. Wipe the rail with a dry cloth until it shines, and look at it. " + strings.Repeat("It is dull. ", 110) + "\n")
	}
	text := b.String()
	typed := func(at int) []byte { return []byte(text[:at] + "x" + text[at:]) }
	desk, begun := NewDesk("job.md"), 0
	takeIn := func(text []byte) {
		before := desk.kept
		desk.Begin(lib, text, rules.Options{})()
		if desk.kept != before {
			begun++
		}
	}
	first := strings.Index(text, "dry")
	for n := range 200 {
		takeIn(typed(first + n%3))
	}
	if begun != 1 || len(desk.kept.fresh) != 1 {
		t.Errorf("one entry was typed into: the file was read %d times, %d entries are kept", begun, len(desk.kept.fresh))
	}
	step := strings.Index(text[first:], "1. ") + len("1. Wipe the rail with a ")
	for n := range 200 {
		takeIn(typed(first + n*step))
		takeIn([]byte(text))
		if held := len(desk.kept.fresh) * len(text); held > mostHeld+len(text) {
			t.Fatalf("%d MiB of earlier texts are held", held>>20)
		}
	}
	if begun < 2 {
		t.Errorf("the file was read %d times", begun)
	}
}

// lists holds what the rules of a desk go over against what is gathered anew.
func lists(c *comparer, got, want *rules.Job) {
	c.same("steps", reflect.ValueOf(got.Steps()), reflect.ValueOf(want.Steps()))
	c.same("acts", reflect.ValueOf(got.Acts()), reflect.ValueOf(want.Acts()))
	c.same("passages", reflect.ValueOf(got.Passages()), reflect.ValueOf(want.Passages()))
	c.same("messages", reflect.ValueOf(got.Messages()), reflect.ValueOf(want.Messages()))
	for e := range verb.Include + 1 {
		c.same("doing", reflect.ValueOf(got.Doing(e)), reflect.ValueOf(want.Doing(e)))
	}
	for i, tool := range got.Proc.Tools {
		c.same(fmt.Sprint(i), reflect.ValueOf(got.UsesTool(tool)), reflect.ValueOf(want.UsesTool(want.Proc.Tools[i])))
	}
	for i, s := range got.Proc.Supplies {
		c.same(s.Name.Value, reflect.ValueOf(got.UsesSupply(s)), reflect.ValueOf(want.UsesSupply(want.Proc.Supplies[i])))
	}
	for i, s := range got.Steps() {
		c.same("place", reflect.ValueOf(got.Place(s.Step)), reflect.ValueOf(i))
	}
}

// retyped makes one edit, mostly a small one within a step.
func retyped(r *rand.Rand, text []byte) []byte {
	from := bytes.Index(text, []byte("\n1. "))
	if from < 0 || r.Intn(12) == 0 {
		from = 0
	}
	at := from + r.Intn(len(text)-from)
	to := at
	put := ""
	switch r.Intn(8) {
	case 0, 1:
		put = string(rune('a' + r.Intn(26)))
	case 2:
		to = min(at+1, len(text))
	case 3:
		const odd = "{}|-*#:,.0123456789 \t\n\r[]<>!`\"'&_~^\\"
		put = string(odd[r.Intn(len(odd))])
	case 4:
		pieces := []string{" {remove the cover}", "\n\n   > **WARNING:** it falls. Hold it.\n", "\n   - mind the seal\n", "\n   1. wipe it\n", "{label x}", "{number x}", "{torque 2 bolts to 5 N·m}", "[a](b)", "\n\n[a]: b\n", "é½", "&amp;", "{tool 13 mm socket}"}
		put = pieces[r.Intn(len(pieces))]
	case 5:
		to = min(at+r.Intn(20), len(text))
	case 6: // a word stands somewhere else as well
		words := strings.Fields(string(text))
		put = " " + words[r.Intn(len(words))] + " "
	case 7:
		to = min(at+r.Intn(3), len(text))
		put = fmt.Sprint(r.Intn(30))
	}
	return append(append(append([]byte{}, text[:at]...), put...), text[to:]...)
}

// comparer holds two values against one another, pointers and all. Files are the same when their texts are.
type comparer struct {
	seen map[[2]uintptr]bool
	why  string
}

func (c *comparer) same(path string, a, b reflect.Value) {
	if c.why != "" || len(path) > 4000 {
		return
	}
	differ := func() {
		if c.why == "" {
			c.why = fmt.Sprintf("%s: %v, wanted %v", path, a, b)
		}
	}
	if a.IsValid() != b.IsValid() {
		differ()
		return
	}
	if !a.IsValid() {
		return
	}
	switch a.Kind() {
	case reflect.Pointer:
		if a.IsNil() != b.IsNil() {
			differ()
			return
		}
		if a.IsNil() || a.Pointer() == b.Pointer() {
			return
		}
		key := [2]uintptr{a.Pointer(), b.Pointer()}
		if c.seen[key] {
			return
		}
		c.seen[key] = true
		c.same(path, a.Elem(), b.Elem())
	case reflect.Interface:
		if a.IsNil() != b.IsNil() {
			differ()
			return
		}
		c.same(path, a.Elem(), b.Elem())
	case reflect.Struct:
		for i := range a.NumField() {
			c.same(path+"."+a.Type().Field(i).Name, a.Field(i), b.Field(i))
		}
	case reflect.Slice, reflect.Array:
		if a.Len() != b.Len() {
			differ()
			return
		}
		for i := range a.Len() {
			c.same(fmt.Sprintf("%s[%d]", path, i), a.Index(i), b.Index(i))
		}
	case reflect.Map:
		if a.Len() != b.Len() {
			differ()
			return
		}
		for _, k := range a.MapKeys() {
			if k.Kind() == reflect.Pointer {
				return
			}
			c.same(fmt.Sprintf("%s[%v]", path, k), a.MapIndex(k), b.MapIndex(k))
		}
	case reflect.String:
		if a.String() != b.String() {
			differ()
		}
	case reflect.Bool:
		if a.Bool() != b.Bool() {
			differ()
		}
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		if a.Int() != b.Int() {
			differ()
		}
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64, reflect.Uintptr:
		if a.Uint() != b.Uint() {
			differ()
		}
	case reflect.Float32, reflect.Float64:
		if a.Float() != b.Float() {
			differ()
		}
	}
}
