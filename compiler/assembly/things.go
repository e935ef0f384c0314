package assembly

import (
	"slices"
	"strings"
)

// things are what a play follows by name, in the order of their names: seldom more than a handful, looked through at every act.
type things[V any] []thing[V]

type thing[V any] struct {
	name string
	is   *V
}

func (t things[V]) find(name string) (int, bool) {
	return slices.BinarySearchFunc(t, name, func(x thing[V], name string) int { return strings.Compare(x.name, name) })
}

// get gives the thing of a name, nil when there is none.
func (t things[V]) get(name string) *V {
	if i, ok := t.find(name); ok {
		return t[i].is
	}
	return nil
}

// put puts a thing in, in the place of one of its name.
func (t *things[V]) put(name string, is *V) {
	i, ok := t.find(name)
	if ok {
		(*t)[i].is = is
		return
	}
	*t = slices.Insert(*t, i, thing[V]{name, is})
}

// clone copies the things with what is known of each.
func (t things[V]) clone() things[V] {
	if len(t) == 0 {
		return nil
	}
	all, made := make(things[V], len(t)), make([]V, len(t))
	for i, x := range t {
		made[i] = *x.is
		all[i] = thing[V]{x.name, &made[i]}
	}
	return all
}

// names lists the names of two lists of things: those of the first, then those that only the second has.
func names[V any](a, b things[V]) (all []string) {
	for _, x := range a {
		all = append(all, x.name)
	}
	for _, x := range b {
		if a.get(x.name) == nil {
			all = append(all, x.name)
		}
	}
	return all
}
