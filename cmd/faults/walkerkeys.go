package main

import (
	"runtime/debug"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// sizes are the windows of the walk; sometimes it is one that is too small.
func sizes() [][2]int { return [][2]int{{60, 20}, {80, 24}, {120, 40}, {200, 60}} }

// walkKeys are the keys of the walk: those that give answers several times, every other one once.
func walkKeys() []string {
	list := strings.Fields(`enter enter enter enter enter esc esc tab up up down down down left right pgup pgdown home end
		backspace ctrl+s ctrl+w ctrl+e ctrl+l ctrl+r u u u x ? + - . 0 1 1 2 2 3 4 5 6 7 8 9`)
	for c := 'a'; c <= 'z'; c++ {
		list = append(list, string(c))
	}
	return append(list, " ", " ", " ", "é", "日", "/", "@", "ctrl+d")
}

// named are the keys that are not letters, by name.
func named() map[string]tea.KeyType {
	return map[string]tea.KeyType{
		"enter": tea.KeyEnter, "esc": tea.KeyEsc, "tab": tea.KeyTab, "up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft,
		"right": tea.KeyRight, "pgup": tea.KeyPgUp, "pgdown": tea.KeyPgDown, "home": tea.KeyHome, "end": tea.KeyEnd,
		"backspace": tea.KeyBackspace, "ctrl+s": tea.KeyCtrlS, "ctrl+w": tea.KeyCtrlW, "ctrl+d": tea.KeyCtrlD, "ctrl+c": tea.KeyCtrlC,
		"ctrl+e": tea.KeyCtrlE, "ctrl+l": tea.KeyCtrlL, "ctrl+r": tea.KeyCtrlR,
	}
}

// pasted are texts to paste: a chip, several lines, control sequences, more than a field holds.
func pasted() []string {
	return []string{"985141000123456", "owner rang\nhe coughed", "\x1b]11;rgb:0000/0000/0000\x07", "=1+1", "38.4 C", strings.Repeat("long ", 400), "\u202eevil", ""}
}

func (w *walker) size() {
	size := sizes()[w.rnd.IntN(len(sizes()))]
	w.w, w.h = size[0], size[1]
	if w.rnd.IntN(25) == 0 {
		w.w, w.h = 1+w.rnd.IntN(70), 1+w.rnd.IntN(22)
	}
	w.resizes++
	w.send(tea.WindowSizeMsg{Width: w.w, Height: w.h})
}

// press does one random thing and checks the frame; a panic becomes the error.
func (w *walker) press(n int) (err error) {
	key := "a start"
	defer func() {
		if p := recover(); p != nil {
			err = broken("panic at %s: %v\n%s", key, p, debug.Stack())
		}
	}()
	if w.model == nil || w.quit {
		if err := w.start(); err != nil {
			return err
		}
	}
	list := walkKeys()
	key = list[w.rnd.IntN(len(list))]
	switch chance := w.rnd.IntN(1000); {
	case chance < 15:
		key = "a resize"
		w.size()
	case chance < 25:
		w.pastes++
		key = "a paste"
		w.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune(pasted()[w.rnd.IntN(len(pasted()))])})
	case chance < 28:
		key = "a reader's burst"
		for _, c := range "985141000123456" {
			w.send(letter(string(c)))
			w.pass(5 * time.Millisecond)
		}
		w.send(tea.KeyMsg{Type: tea.KeyEnter})
	case chance < 30:
		key = "ctrl+c"
		w.send(tea.KeyMsg{Type: tea.KeyCtrlC})
	default:
		if kind, ok := named()[key]; ok {
			w.send(tea.KeyMsg{Type: kind})
		} else {
			w.send(letter(key))
		}
	}
	w.pass(time.Duration(120+w.rnd.IntN(1500)) * time.Millisecond)
	return w.look(key)
}

func letter(text string) tea.KeyMsg {
	if text == " " {
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text)}
}
