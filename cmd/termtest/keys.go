//go:build unix

package termtest

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// bytesOf is what a terminal of the xterm family sends for a key: ECMA-48
// sequences for the cursor keys, DEL for backspace.
func bytesOf(key string) (string, error) {
	switch key {
	case "enter":
		return "\r", nil
	case "esc":
		return "\x1b", nil
	case "tab":
		return "\t", nil
	case "shift+tab":
		return "\x1b[Z", nil
	case "space":
		return " ", nil
	case "backspace":
		return "\x7f", nil
	case "up":
		return "\x1b[A", nil
	case "down":
		return "\x1b[B", nil
	case "right":
		return "\x1b[C", nil
	case "left":
		return "\x1b[D", nil
	case "home":
		return "\x1b[H", nil
	case "end":
		return "\x1b[F", nil
	case "pgup":
		return "\x1b[5~", nil
	case "pgdown":
		return "\x1b[6~", nil
	}
	if letter, ok := strings.CutPrefix(key, "ctrl+"); ok && len(letter) == 1 && letter >= "a" && letter <= "z" {
		return string(letter[0] - 'a' + 1), nil
	}
	if utf8.RuneCountInString(key) == 1 {
		return key, nil
	}
	return "", fmt.Errorf("no key is called %q; Type types text", key)
}
