package settings_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/settings"
	"loosebox/tui/screentest"
	"loosebox/tui/theme"
)

func open(t testing.TB, size layout.Size) (*screentest.Driver, *nav.Deps, *examtest.Store) {
	t.Helper()
	deps, store := screentest.Deps(t)
	deps.Theme = theme.New(theme.Dark, false)
	deps.Settings = exam.Settings{Person: "Ann Bell", Scatter: map[string]exam.Scatter{
		"Ann Bell": {SigmaS: 0.0384, Taps: 30, At: screentest.Now().AddDate(0, -1, 0)},
	}}
	return screentest.New(t, deps, settings.New, nav.Address{Screen: nav.Settings}, size), deps, store
}

func stored(t *testing.T, s *examtest.Store) exam.Settings {
	t.Helper()
	got, err := s.Settings()
	require.NoError(t, err)
	return got
}

// to puts the cursor on the row with a label.
func to(t *testing.T, d *screentest.Driver, label string) {
	t.Helper()
	d.Press("home")
	for range 40 {
		if strings.Contains(d.Row("> "), " "+label+":") {
			return
		}
		d.Press("down")
	}
	require.Fail(t, "no row is called "+label)
}

func TestSettingsAreDrawnInEverySize(t *testing.T) {
	screentest.Goldens(t, "settings", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := open(t, size)
		return d
	})
	screentest.Goldens(t, "settings-routine", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, deps, _ := open(t, size)
		deps.Folder = "/home/ann/.local/share/loosebox"
		deps.Problem = "the practice's ranges are refused; the built-in ranges are used: ranges.csv, line 7: the usual range is upside down"
		d.Press("down")
		return d
	})
}

func TestEveryChoiceIsStoredAsItIsMade(t *testing.T) {
	d, deps, store := open(t, layout.Size{W: 80, H: 24})
	to(t, d, "default routine")
	d.Press("right", "enter")
	assert.Equal(t, "five-minute-check", stored(t, store).Routine)
	to(t, d, "temperature")
	d.Press("right")
	assert.Equal(t, notation.Units{notation.Celsius: notation.Fahrenheit}, stored(t, store).Units)
	to(t, d, "weight")
	d.Press("2")
	assert.Equal(t, notation.Units{notation.Celsius: notation.Fahrenheit, notation.Kilograms: notation.Pounds}, stored(t, store).Units)
	d.Press("1")
	assert.Equal(t, notation.Units{notation.Celsius: notation.Fahrenheit}, stored(t, store).Units)
	to(t, d, "length")
	d.Press("3")
	assert.Equal(t, notation.Units{notation.Celsius: notation.Fahrenheit, notation.Centimetre: notation.Inch, notation.Inch: notation.Hands}, stored(t, store).Units)
	assert.True(t, d.Reads("15.2 is 15 hands 2 inches"), d.View())
	d.Press("2")
	assert.Equal(t, notation.Units{notation.Celsius: notation.Fahrenheit, notation.Centimetre: notation.Inch}, stored(t, store).Units)
	d.Press("1")
	assert.Equal(t, notation.Units{notation.Celsius: notation.Fahrenheit}, stored(t, store).Units)
	to(t, d, "heart accuracy")
	d.Press("left")
	assert.InDelta(t, 0.5, stored(t, store).WantedHeart, 0)
	to(t, d, "breath accuracy")
	d.Press("right")
	assert.InDelta(t, 2, stored(t, store).WantedBreath, 0)
	to(t, d, "theme")
	d.Press("enter", "enter")
	assert.Equal(t, "sunlight", stored(t, store).Theme)
	assert.Equal(t, theme.Sunlight, deps.Theme.Name, "the root draws with it at once")
	d.Press("enter")
	assert.Equal(t, theme.Dark, deps.Theme.Name, "enter goes round")
	to(t, d, "bell")
	d.Press("right")
	assert.True(t, stored(t, store).Silent)
	assert.Equal(t, stored(t, store), deps.Settings, "every screen sees what is stored")
	assert.Contains(t, deps.Settings.Scatter, "Ann Bell", "what is not on the screen stays")
}

func TestAKeyThatChangesNothingStoresNothing(t *testing.T) {
	d, _, store := open(t, layout.Size{W: 80, H: 24})
	for range 11 {
		d.Press("left", "space", "windows space", "x", "9", "backspace", "1", "down")
	}
	to(t, d, "heart accuracy")
	d.Press("2")
	writes := store.Writes()
	d.Press("2", "left", "right")
	assert.Equal(t, writes+2, store.Writes())
}

func TestTheNameIsWritten(t *testing.T) {
	d, _, store := open(t, layout.Size{W: 80, H: 24})
	d.Press("enter")
	for range len("Ann Bell") {
		d.Press("backspace")
	}
	d.Type("Bo g?")
	d.Press("windows space")
	d.Type("Lind")
	assert.Empty(t, d.Opened(), "letters are text")
	assert.Contains(t, d.Row("> "), "your name: Bo g? Lind_")
	d.Press("enter")
	assert.Equal(t, "Bo g? Lind", stored(t, store).Person)
	d.Press("end")
	assert.Contains(t, d.Row("tap practice"), "not measured yet", "the scatter is another person's")
	d.Press("home", "enter")
	d.Type("xyz")
	d.Press("esc")
	assert.False(t, d.Left(), "the first esc closes the name")
	assert.Equal(t, "Bo g? Lind", stored(t, store).Person)
	d.Press("esc")
	assert.True(t, d.Left())
}

// The practice's own numbers: none is agreed on, so none is offered first.
func TestThePracticesOwnNumbersAreTyped(t *testing.T) {
	d, deps, store := open(t, layout.Size{W: 80, H: 24})
	to(t, d, "most mL a site")
	assert.Contains(t, d.Row("> "), "not set (asks above 10 mL; labels in the USA")
	d.Press("enter")
	for text, why := range map[string]string{"0": "above 0", "101": "at most 100", "ten": "type a number, or nothing", "-5": "type a number, or nothing", "1e1": "type a number, or nothing", "5 min": "type a number, or nothing"} {
		d.Type(text)
		d.Press("enter")
		assert.True(t, d.Shows(why), text)
		d.Press("ctrl+u")
	}
	assert.Zero(t, stored(t, store).SiteML)
	d.Type("12,5 mL")
	d.Press("enter")
	assert.InDelta(t, 12.5, stored(t, store).SiteML, 0)
	assert.Contains(t, d.Row("> "), "12.5 mL, the practice's own")
	to(t, d, "observe, min")
	assert.Contains(t, d.Row("> "), "not set; no observation starts by itself")
	d.Press("enter")
	d.Type("1.5")
	d.Press("enter")
	assert.True(t, d.Shows("type whole minutes"))
	d.Press("ctrl+u")
	d.Type("20 min")
	d.Press("enter")
	assert.Equal(t, 20, stored(t, store).WatchMinutes)
	assert.Equal(t, 20, deps.Settings.WatchMinutes, "every screen sees it")
	d.Press("enter", "ctrl+u", "enter")
	assert.Zero(t, stored(t, store).WatchMinutes, "nothing typed is none again")
	assert.InDelta(t, 12.5, stored(t, store).SiteML, 0)
}

func TestARefusedChoiceIsTakenBack(t *testing.T) {
	d, deps, store := open(t, layout.Size{W: 80, H: 24})
	to(t, d, "theme")
	store.FailWith(errors.New("the disk is full"))
	d.Press("right")
	assert.True(t, d.Shows("this setting is NOT saved and stays as it"))
	assert.True(t, d.Shows("[dark]"))
	assert.Equal(t, theme.Dark, deps.Theme.Name)
	store.FailWith(nil)
	d.Press("right")
	assert.Equal(t, "light", stored(t, store).Theme)
}

// Two choices in quick succession are written one after the other, the newest last, and esc waits for both.
func TestChoicesAreWrittenInTheirOrder(t *testing.T) {
	deps, store := screentest.Deps(t)
	s := settings.New(deps, nav.Address{})
	press := func(name string) tea.Cmd { return s.Update(screentest.Press1(name, screentest.Now())) }
	for range 3 {
		press("down")
	}
	first := press("right")
	require.NotNil(t, first)
	assert.Nil(t, press("down"))
	assert.Nil(t, press("right"), "the second waits for the first")
	assert.True(t, s.Escape(), "esc waits, too")
	saved := first()
	assert.Equal(t, notation.Units{notation.Celsius: notation.Fahrenheit}, stored(t, store).Units)
	require.NotNil(t, s.Update(saved))
	assert.Equal(t, "saving ..", s.Right())
	assert.Nil(t, settings.New(deps, nav.Address{}).Update(saved), "another screen's answer")
}

func TestEscWaitsForTheDisk(t *testing.T) {
	d, _, store := open(t, layout.Size{W: 80, H: 24})
	to(t, d, "bell")
	d.Press("right", "esc")
	assert.True(t, d.Left())
	assert.True(t, stored(t, store).Silent)
}

func TestTheBellIsHeardWhenItIsSwitchedOn(t *testing.T) {
	d, deps, _ := open(t, layout.Size{W: 80, H: 24})
	rung := 0
	deps.Bell = func() tea.Msg { rung++; return nil }
	to(t, d, "bell")
	d.Press("right")
	assert.Zero(t, rung)
	assert.Nil(t, deps.Ring(), "silent")
	d.Press("left")
	assert.Equal(t, 1, rung)
	assert.NotNil(t, deps.Ring())
}

func TestTheWayToThePractice(t *testing.T) {
	d, deps, _ := open(t, layout.Size{W: 80, H: 24})
	to(t, d, "tap practice")
	assert.Contains(t, d.Row("> "), "your taps vary by 38 ms (30 taps, 2 Feb 2026")
	d.Press("enter")
	assert.Equal(t, nav.Address{Screen: nav.Practice}, d.Last())
	kept := deps.Settings
	kept.Scatter = map[string]exam.Scatter{"Ann Bell": {SigmaS: 0.021, Taps: 30, At: screentest.Now()}}
	d.Send(nav.SettingsMsg{Settings: kept})
	d.Press("esc")
	assert.Contains(t, d.Row("> "), "your taps vary by 21 ms", "what the practice stored is shown")
}

func TestNoColourStaysWithoutColour(t *testing.T) {
	deps, _ := screentest.Deps(t)
	deps.Theme = theme.New(theme.Plain, true)
	d := screentest.New(t, deps, settings.New, nav.Address{}, layout.Size{W: 80, H: 24})
	to(t, d, "theme")
	d.Press("right")
	assert.Equal(t, theme.Plain, deps.Theme.Name)
	assert.True(t, deps.Theme.ASCII)
	assert.Equal(t, "light", deps.Settings.Theme, "kept for a terminal with colour")
	assert.True(t, d.Shows("this terminal shows no color now; the"))
	to(t, d, "heart accuracy")
	assert.Contains(t, d.Row("> "), "[+/- 1 /min]")
	assert.True(t, theme.New(theme.Light, true).As(theme.Dark).ASCII, "the signs stay those of the terminal")
}

func TestARoutineThatIsGoneIsSaid(t *testing.T) {
	deps, _ := screentest.Deps(t)
	own := deps.Routines[1]
	own.Name, own.Title, own.Own = "evening-round", "Evening round", true
	deps.Routines = append(deps.Routines, own)
	deps.Settings.Routine = "old-order"
	deps.Settings.WantedHeart = 0.7
	d := screentest.New(t, deps, settings.New, nav.Address{}, layout.Size{W: 80, H: 24})
	to(t, d, "default routine")
	assert.True(t, d.Shows(`"old-order" is not there any more`))
	assert.True(t, d.Shows("Evening round (own)"))
	to(t, d, "heart accuracy")
	assert.True(t, d.Shows("[± 0.7 /min]"), "what another version stored stands")
}

func TestHostileText(t *testing.T) {
	for _, text := range screentest.Hostile() {
		for _, size := range screentest.Sizes() {
			deps, _ := screentest.Deps(t)
			deps.Problem, deps.Folder = text, text
			deps.Settings = exam.Settings{
				Person: text, Routine: text, Theme: text, Units: notation.Units{notation.Celsius: notation.Unit(text)},
				WantedHeart: -3, Common: exam.Common{SiteML: math.NaN(), WatchMinutes: -1}, Scatter: map[string]exam.Scatter{text: {SigmaS: 1e300}},
			}
			d := screentest.New(t, deps, settings.New, nav.Address{}, size)
			for range 11 {
				d.Press("down")
			}
			d.Squeeze()
			d.Press("home", "enter")
			d.Paste(text)
			d.View()
			d.Press("enter")
			d.View()
			d.Squeeze()
		}
	}
}

func BenchmarkView(b *testing.B) {
	d, _, _ := open(b, layout.Size{W: 120, H: 40})
	d.Press("down")
	for b.Loop() {
		_ = d.Screen().View(layout.Size{W: 200, H: 60})
	}
}

func TestABackupFolderAndItsKey(t *testing.T) {
	d, deps, store := open(t, layout.Size{W: 80, H: 24})
	deps.BackupKey = func(text string) error {
		if text != "age1good" {
			return errors.New("a recipient begins with age1; loosebox backup --new-key makes one")
		}
		return nil
	}
	to(t, d, "backup folder")
	assert.True(t, d.Reads("no backup is made by itself"), "%s", d.View())
	d.Press("enter")
	d.Type("stick")
	d.Press("enter")
	assert.True(t, d.Reads("type the full path, from the root"), "%s", d.View())
	assert.Empty(t, stored(t, store).BackupFolder)
	for range 5 {
		d.Press("backspace")
	}
	d.Type("/media/ann/stick")
	d.Press("enter")
	assert.Equal(t, "/media/ann/stick", stored(t, store).BackupFolder)
	to(t, d, "backup key")
	assert.True(t, d.Reads("no key: no backup is made by itself"), "%s", d.View())
	d.Press("enter")
	d.Type("age1bad")
	d.Press("enter")
	assert.True(t, d.Reads("loosebox backup --new-key makes one"), "%s", d.View())
	for range 3 {
		d.Press("backspace")
	}
	d.Type("good")
	d.Press("enter")
	assert.Equal(t, "age1good", stored(t, store).BackupRecipient)
}

// The telephone numbers and the order of dates are kept and said where they are needed.
func TestTelephoneAndDates(t *testing.T) {
	d, deps, store := open(t, layout.Size{W: 80, H: 24})
	to(t, d, "vet's telephone")
	d.Press("enter")
	d.Type("555 0142")
	d.Press("enter")
	to(t, d, "vet at night")
	d.Press("enter")
	d.Type("555 0199")
	d.Press("enter")
	to(t, d, "dates like 3/4")
	d.Press("right")
	set := stored(t, store)
	assert.Equal(t, "Call the veterinarian: 555 0142; at night: 555 0199", set.Call())
	assert.Equal(t, notation.MonthFirst, set.DayOrder)
	assert.Equal(t, set, deps.Settings)
	d.Press("left")
	assert.Equal(t, notation.AskDayOrder, stored(t, store).DayOrder)
	assert.Empty(t, exam.Settings{}.Call())
}

// Who set something for the practice is said quietly under its row, and a machine's own has
// nobody.
func TestWhoSetItIsSaid(t *testing.T) {
	d, deps, store := open(t, layout.Size{W: 80, H: 24})
	to(t, d, "most mL a site")
	d.Press("enter")
	d.Type("8")
	d.Press("enter")
	assert.True(t, d.Reads("set by Ann Bell on this laptop, 2 Mar 2026"), d.View())
	to(t, d, "theme")
	assert.False(t, d.Reads("set by"), d.View())
	writes := store.Writes()
	to(t, d, "most mL a site")
	d.Press("enter", "enter")
	assert.Equal(t, writes, store.Writes(), "what stands is not written again")

	require.NoError(t, store.SaveSetting(exam.Setting{Key: exam.SettingSiteML, Value: []byte("9"), Replaces: []exam.Hash{}, By: "Eva", At: screentest.Now()}))
	now := stored(t, store)
	now.Person, now.Scatter = deps.Settings.Person, deps.Settings.Scatter
	d.Send(nav.SettingsMsg{Settings: now})
	assert.Contains(t, d.Row("> "), "9 mL, the practice's own", "what came in is shown at once")
	assert.True(t, d.Reads("another laptop set something else"), d.View())
}

// The logo is read from its file when it is typed.
func TestTheLogoIsRead(t *testing.T) {
	d, deps, store := open(t, layout.Size{W: 80, H: 24})
	deps.Picture = func(path string) ([]byte, error) {
		if path != "/stick/logo.png" {
			return nil, errors.New(path + " is neither PNG nor JPEG")
		}
		return []byte("picture"), nil
	}
	to(t, d, "logo")
	d.Press("enter")
	d.Type("/stick/x")
	d.Press("enter")
	assert.True(t, d.Reads("neither PNG nor JPEG"), d.View())
	assert.Empty(t, stored(t, store).Practice.Picture)
	d.Press("enter")
	d.Type("/stick/logo.png")
	d.Press("enter")
	assert.Equal(t, "picture", string(stored(t, store).Practice.Picture))
	assert.Contains(t, d.Row("> "), "logo: 1 kB")
	d.Press("enter", "enter")
	assert.Empty(t, stored(t, store).Practice.Picture, "nothing typed is none")
}
