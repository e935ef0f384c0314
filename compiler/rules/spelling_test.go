package rules_test

import (
	"strings"
	"testing"

	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
)

func TestSlip(t *testing.T) {
	names := []string{"cover bolt", "cover bolts", "end cover", "drain plug", "shaft seal", "locating dowel", "sealing washer", "inner bearing", "outer bearing", "guard", "counterweight", "13 mm socket", "17 mm socket"}
	for _, c := range []struct {
		written, meant string
		want           bool
	}{
		{"cover botls", "cover bolts", true}, // two letters changed places
		{"covr bolt", "cover bolt", true},    // one missing
		{"cover bollt", "cover bolt", true},  // one too many
		{"end-covre", "end cover", true},
		{"endcover", "end cover", true},
		{"locatng dowel", "locating dowel", true},
		{"seeling washer", "sealing washer", true}, // one wrong, in a long word
		{"sealign washr", "sealing washer", false}, // two words
		{"seailgn washr", "sealing washer", false},
		{"conterwieght", "counterweight", true}, // two in a long word
		{"cover belt", "cover bolt", false},     // one wrong in a short word may be another thing
		{"shaft seat", "shaft seal", false},
		{"shift seal", "shaft seal", false},
		{"cover", "end cover", false},
		{"cover plate", "cover bolt", false},
		{"13 mm sockte", "13 mm socket", true},
		{"18 mm socket", "13 mm socket", false}, // never a figure
		{"1 mm socket", "13 mm socket", false},
		{"drain plig", "drain plug", false},
		{"drain pulg", "drain plug", true},
		{"gaurd", "guard", true},
		{"uard", "guard", false}, // the first letter
		{"bearing", "inner bearing", false},
		{"guard", "guard", false},
		{"", "guard", false},
	} {
		if got := rules.Slip(c.written, c.meant, names); got != c.want {
			t.Errorf("%q for %q: a slip of the pen is %v, it was to be %v", c.written, c.meant, got, c.want)
		}
	}
	if !rules.Slip("top bracekt", "top bracket", []string{"top bracket", "top bracelet"}) || rules.Slip("chanel bar", "channel bar", []string{"channel bar", "chancel bar"}) {
		t.Error("a word between two names is a slip of neither")
	}
}

// The slip may be in the declaration: then every use of the name would be spoilt after it.
func TestWhichOfTwoSpellingsIsTheSlip(t *testing.T) {
	for _, c := range []struct {
		name, written, text string
		want                bool
	}{
		{"gaiter ring", "gaitre ring", "| gaiter ring | 1 |\n1. {Remove the gaitre ring}.\n", true}, // a workshop knows gaiters
		{"zirbel ring", "zibrel ring", "| zirbel ring | 1 |\n1. {Remove the zibrel ring}.\n2. {Install the zirbel ring}.\n", true},
		{"zirbel ring", "zibrel ring", "| zirbel ring | 1 |\n1. {Remove the zibrel ring}.\n", false},                                // once each
		{"zirbel ring", "zibrel ring", "| zirbel ring | 1 |\n1. {Remove the zibrel ring}.\n2. {Install the zibrel ring}.\n", false}, // the table has the slip
		{"zirbel rings", "zibrel rings", "| zirbel ring | 2 |\n1. {Remove 2 zibrel rings}.\n2. {Install 2 zirbel rings}.\n", true},
	} {
		f := source.New("a.md", "a.md", []byte(c.text))
		j := &rules.Job{Proc: &procedure.Procedure{Parts: []*procedure.Part{{Name: procedure.Text{Value: strings.TrimSuffix(c.name, "s")}}}}, Trees: []*syntax.Tree{{File: f}}}
		i := strings.Index(c.text, c.written)
		fixes := j.SpellName(f.At(i, i+len(c.written)), c.written, c.name, j.ThingNames())
		if len(fixes) != 1 || fixes[0].Safe != c.want {
			t.Errorf("%q for %q in %q: %+v, safe was to be %v", c.written, c.name, c.text, fixes, c.want)
		}
	}
}
