package part

import (
	"testing"

	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
)

func TestWhatKindOfPartIsUsedOnlyOnce(t *testing.T) {
	for _, c := range []struct{ name, spec, nut, kind string }{
		{name: "cover gasket", kind: "gasket"},
		{name: "gasket of the cover", kind: "gasket"},
		{name: "gasket scraper"},
		{name: "copper sealing washer", kind: "sealing washer"},
		{name: "plain washer"},
		{name: "Split-pin", kind: "split pin"},
		{name: "hinge pin"},
		{name: "head bolt", spec: "M10×90 10.9 hex, stretch bolt", kind: "stretch bolt"},
		{name: "head bolt", spec: "M10×90 10.9 hex"},
		{name: "lid seal", spec: "O-ring", kind: "O-ring"},
		{name: "wheel nut", nut: "nylon insert", kind: "nylon insert nut"},
		{name: "cable lock nut", nut: "jam"}, // it locks another nut, and goes back
		{name: "spring lock washer", kind: "lock washer"},
		{name: "castle nut", nut: "castle"},
	} {
		p := &procedure.Part{Name: procedure.Text{Value: c.name}, Spec: procedure.Text{Value: c.spec}, Hardware: &hardware.Spec{Nut: c.nut}}
		kind, ok := singleUse(p)
		if ok != (c.kind != "") || ok && kind.Name != c.kind {
			t.Errorf("%q, %q, %q: kind %q, %v; want %q", c.name, c.spec, c.nut, kind.Name, ok, c.kind)
		}
	}
}
