package assembly_test

import (
	"fmt"
	"strings"
	"testing"

	"refitcard/compiler/quantity"
)

// What each supply came to, by variant: "gear oil 1.4 L" or "rag 3 pieces"; "used" where nothing was spent.
func TestWhatSpendsASupply(t *testing.T) {
	for _, c := range []struct{ rule, front, supplies, steps, want string }{
		{rule: "supply spends", supplies: "grease, 50 mL", steps: "{Supply 5 mL grease}. {Supply 20 mL grease}.", want: "grease 25.0 mL"},
		{rule: "supply spends pieces", supplies: "rag, 4", steps: "{Supply 2 rags}. {Supply rag}.", want: "rag 3 pieces"},
		{rule: "a mass of what is listed by volume can't be added", supplies: "grease, 50 mL", steps: "{Supply 5 g grease}.", want: "grease used"},
		{rule: "fill spends", supplies: "gear oil, 2 L", steps: "{Fill 1.4 L of gear oil}.", want: "gear oil 1.40 L"},
		{rule: "top up spends", supplies: "gear oil, 2 L", steps: "{Fill 1.4 L of gear oil}.\n{Top up 0.2 L of gear oil}.", want: "gear oil 1.60 L"},
		{rule: "fill without a quantity spends the rest", supplies: "gear oil, 2 L", steps: "{Supply 0.5 L gear oil}.\n{Fill the gear oil}.", want: "gear oil 2.00 L"},
		{rule: "drain spends nothing", supplies: "gear oil, 2 L", steps: "{Drain 2 L of gear oil}.", want: "gear oil used"},
		{rule: "clean and lubricate spend nothing", supplies: "solvent, 1 L", steps: "{Clean the face with solvent}. {Lubricate the pin with solvent}.", want: "solvent used"},
		{rule: "insert spends nothing", supplies: "rag, 4", steps: "{Insert 2 rags}.\n{Withdraw 2 rags}.", want: "rag used"},
		{rule: "insert and supply in one step spend once", supplies: "rag, 4", steps: "{Supply 2 rags} and {insert 2 rags}.\n{Withdraw 2 rags}.", want: "rag 2 pieces"},
		{rule: "the other order too", supplies: "rag, 4", steps: "{Insert a rag} of {supply 2 rags}.\n{Withdraw the rag}.", want: "rag 2 pieces"},
		{rule: "supply in two steps spends twice", supplies: "rag, 4", steps: "{Supply 2 rags}.\n{Supply 2 rags}.", want: "rag 4 pieces"},
		{rule: "each variant spends its own", front: "variants: [short, long]", supplies: "grease, 50 mL", steps: "{for short} {Supply 5 mL grease}.\n{for long} {Supply 20 mL grease}.", want: "grease 5.00 mL; grease 20.0 mL"},
		{rule: "of two ways the worse counts", supplies: "grease, 50 mL", steps: "{If it is dry} {supply 20 mL grease}.\n{Otherwise} {supply 5 mL grease}.", want: "grease 20.0 mL"},
		{rule: "what both ways spend before counts with either", supplies: "grease, 50 mL", steps: "{Supply 10 mL grease}.\n{If it is dry} {supply 5 mL grease}.\n{Otherwise} {supply 20 mL grease}.\n{Supply 1 mL grease}.", want: "grease 31.0 mL"},
		{rule: "the way with fewer does not count", supplies: "rag, 9", steps: "{Supply 1 rag}.\n{If it is dry} {supply 4 rags}.\n{Otherwise} {supply 2 rags}.", want: "rag 5 pieces"},
		{rule: "repeat spends each time", supplies: "grease, 50 mL", steps: "{Repeat 3 times} {supply 5 mL grease}.", want: "grease 15.0 mL"},
	} {
		_, faults, plays := played(t, ledgerCase{front: c.front, supplies: c.supplies, steps: c.steps}.text())
		var got []string
		for _, play := range plays {
			for _, x := range play.Spent {
				switch {
				case x.Amount != nil:
					got = append(got, x.Supply.Name.Value+" "+quantity.Of(x.Amount, x.Unit, 3).Running())
				case x.Pieces > 0:
					got = append(got, fmt.Sprintf("%s %d pieces", x.Supply.Name.Value, x.Pieces))
				default:
					got = append(got, x.Supply.Name.Value+" used")
				}
			}
		}
		if strings.Join(got, "; ") != c.want || len(faults) > 0 {
			t.Errorf("%s: %q, want %q; faults %v", c.rule, strings.Join(got, "; "), c.want, faults)
		}
	}
}
