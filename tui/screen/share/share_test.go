package share_test

import (
	"cmp"
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/share"
	"loosebox/tui/screentest"
)

// page is a practice of two laptops; did is what its acts were given.
type page struct {
	did  [][]string
	late string // a file that came since the page was read
	asks string // who asks at the hub
}

func (p *page) State() (nav.ShareState, error) {
	return nav.ShareState{
		Facts: []nav.ShareFact{
			{Label: "folder", Text: "/media/ann/STICK/loosebox, not there now"},
			{Label: "last exchange", Text: "1 Mar 2026 18:40; 12 lines to send"},
			{Label: "practice", Text: "Hollow Farm Vets"},
			{Label: "its words", Text: "typical deny state winner coffee emerge"},
			{Label: "laptop", Text: "clinic, 5041 lines, this one"},
			{Label: "laptop", Text: "truck, 812 lines"},
		},
		Acts: []nav.ShareAct{
			{
				Name: "exchange now", Does: "Takes in what the folder holds and writes what it does not hold.", Button: "exchange",
				Fields: []nav.ShareField{{Label: "folder", Text: "/media/ann/STICK/loosebox", Hint: "the whole path"}},
				Do: func(v []string) (nav.ShareStep, error) {
					p.did = append(p.did, v)
					return nav.ShareStep{}, errors.New("the folder is not there. Plug the stick in")
				},
			},
			{
				Name: "let a laptop in", Does: "The other laptop wrote a request onto the stick.", Button: "read the request",
				Fields: []nav.ShareField{{Label: "request", Text: cmp.Or(p.late, "/media/ann/STICK/laptop.request"), Hint: "the file"}, {Label: "passphrase", Secret: true, Hint: "of the practice's key"}},
				Do: func(v []string) (nav.ShareStep, error) {
					p.did = append(p.did, v)
					return nav.ShareStep{
						Say: []string{"The laptop \"barn\" asks to come in. Let somebody read its words aloud:"}, Words: "road title now reward corn trash",
						Ask: "Does the other laptop show the same words?",
						Then: func() (nav.ShareStep, error) {
							p.did = append(p.did, []string{"in"})
							return nav.ShareStep{Say: []string{"barn is in."}}, nil
						},
					}, nil
				},
			},
			{
				Name: "let in a laptop that asks at the hub", Button: "read the request",
				Fields:  []nav.ShareField{{Label: "laptop"}, {Label: "passphrase", Secret: true}},
				Propose: func() []string { return []string{p.asks} },
				Do: func(v []string) (nav.ShareStep, error) {
					p.did = append(p.did, v)
					return nav.ShareStep{Say: []string{strings.Repeat("what waits is kept here; ", 20) + "make room on it."}}, nil
				},
			},
		},
	}, nil
}

func open(t *testing.T, size layout.Size) (*screentest.Driver, *page) {
	t.Helper()
	deps, _ := screentest.Deps(t)
	p := &page{}
	deps.Sharing = p
	return screentest.New(t, deps, share.New, nav.Address{Screen: nav.Share}, size), p
}

func TestGolden(t *testing.T) {
	screentest.Goldens(t, "share", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _ := open(t, size)
		return d
	})
	screentest.Goldens(t, "share-form", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _ := open(t, size)
		d.Press("2", "enter")
		d.Type("oats")
		return d
	})
	screentest.Goldens(t, "share-words", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _ := open(t, size)
		d.Press("2", "enter")
		d.Type("four dry oat bags")
		d.Press("enter", "enter")
		return d
	})
}

// A passphrase is never on the screen, pasted or typed; what is typed is what is used.
func TestAPassphraseIsNotShown(t *testing.T) {
	for name, give := range map[string]func(*screentest.Driver){
		"typed":                    func(d *screentest.Driver) { d.Type("four  dry oat bags") },
		"pasted with its line end": func(d *screentest.Driver) { d.Paste("four  dry oat bags\r\n") },
		"pasted":                   func(d *screentest.Driver) { d.Paste("four  dry oat bags") },
		"typed after enter on the empty line": func(d *screentest.Driver) {
			d.Press("enter")
			assert.True(t, d.Reads("the passphrase is needed"))
			d.Type("four  dry oat bagx")
			d.Press("backspace", "s")
		},
	} {
		d, p := open(t, layout.Size{W: 80, H: 24})
		d.Press("2", "enter")
		give(d)
		assert.NotContains(t, d.View(), "oat", name)
		assert.True(t, d.Shows("******************"), "%s: %s", name, d.View())
		d.Press("ctrl+s")
		assert.Equal(t, [][]string{{"/media/ann/STICK/laptop.request", "four  dry oat bags"}}, p.did, name)
	}
}

// What was typed is not lost by one esc, nor asked about where nothing was typed.
func TestEscapeAsksOnce(t *testing.T) {
	d, p := open(t, layout.Size{W: 80, H: 24})
	d.Press("2", "esc")
	assert.True(t, d.Reads("Takes in what the folder holds") || d.Reads("The other laptop wrote"), "the list again")
	assert.False(t, d.Reads("esc again"))
	d.Press("2", "enter")
	d.Type("four dry oat bags")
	d.Press("esc")
	assert.True(t, d.Reads("what was typed is lost"))
	d.Press("enter")
	assert.False(t, d.Reads("what was typed is lost"), "any key goes on")
	d.Press("ctrl+s", "x", "enter")
	assert.Len(t, p.did, 1)
	d.Press("2", "enter")
	d.Type("oats")
	d.Press("esc", "esc")
	assert.True(t, d.Reads("2 let a laptop in"))
	assert.Len(t, p.did, 1)
}

// A form proposes what is there when it is opened, not when the page was read.
func TestAFormIsOfNow(t *testing.T) {
	d, p := open(t, layout.Size{W: 80, H: 24})
	p.late = "/media/ann/STICK/barn.request"
	d.Press("2")
	assert.True(t, d.Reads("/media/ann/STICK/barn.request"))
}

// Who asks at the hub stands in the form, as nobody typed it: esc loses nothing.
func TestWhoAsksAtTheHubIsProposed(t *testing.T) {
	d, p := open(t, layout.Size{W: 80, H: 24})
	p.asks = "truck"
	d.Press("3")
	assert.True(t, d.Reads("laptop: truck"), d.View())
	d.Press("esc")
	assert.True(t, d.Reads("2 let a laptop in"), d.View())
	d.Press("3", "enter")
	d.Type("oats")
	d.Press("ctrl+s")
	assert.Equal(t, [][]string{{"truck", "oats"}}, p.did)
	assert.True(t, d.Reads("make room on it."), "what came of it is not cut: %s", d.View())
}

// Only yes lets a laptop in: enter, held or not, is no answer, and no changes nothing.
func TestWordsAreComparedByAPerson(t *testing.T) {
	d, p := open(t, layout.Size{W: 80, H: 24})
	d.Press("2", "enter")
	d.Type("four dry oat bags")
	d.Press("ctrl+s", "enter", "enter", "space", "1")
	assert.True(t, d.Reads("Does the other laptop show the same words?"))
	assert.Len(t, p.did, 1)
	d.Press("x")
	assert.True(t, d.Reads("Nothing was changed."))
	d.Press("enter")
	assert.Len(t, p.did, 1)
	d.Press("2", "enter")
	d.Type("four dry oat bags")
	d.Press("ctrl+s", "y")
	assert.True(t, d.Reads("barn is in."))
	assert.Equal(t, []string{"in"}, p.did[len(p.did)-1])
}

// What fails is said, and what was typed stays; esc leads back a step at a time.
func TestWhatFailsIsSaid(t *testing.T) {
	d, p := open(t, layout.Size{W: 80, H: 24})
	d.Press("1", "enter", "enter")
	assert.Len(t, p.did, 1)
	assert.True(t, d.Reads("the folder is not there. Plug the stick in"), d.View())
	assert.True(t, d.Reads("/media/ann/STICK/loosebox"))
	d.Press("esc")
	assert.True(t, d.Reads("let a laptop in"))
	d.Press("esc")
	assert.True(t, d.Left())
}

// The record of the demo is not shared.
func TestWithoutSharing(t *testing.T) {
	deps, _ := screentest.Deps(t)
	d := screentest.New(t, deps, share.New, nav.Address{Screen: nav.Share}, layout.Size{W: 60, H: 20})
	d.Press("enter", "1", "2")
	assert.True(t, d.Reads("not shared"))
	assert.False(t, d.Shows("enter open"), "nothing is there to open")
}
