// Package charset makes text of the bytes of a table that somebody saved: in UTF-8, UTF-16, or one of the old
// character sets of a single byte. It never turns a letter into a question mark: where two sets read a word
// differently and nothing settles which is right, both readings are given back to be asked about.
package charset

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// Name names a character set as a mapping file writes it.
type Name string

// The character sets that are read.
const (
	UTF8        Name = "utf-8"
	UTF16LE     Name = "utf-16le"
	UTF16BE     Name = "utf-16be"
	Windows1252 Name = "windows-1252" // Windows in western Europe and America
	MacRoman    Name = "macintosh"    // Macs before 2001, and programs that still save for them
	DOS437      Name = "cp437"
	DOS850      Name = "cp850"
	Windows1250 Name = "windows-1250" // Windows in central Europe
)

// Names lists every character set.
func Names() []Name {
	return []Name{UTF8, UTF16LE, UTF16BE, Windows1252, MacRoman, DOS437, DOS850, Windows1250}
}

// Named is the character set that a person means by a word: its name or one that is often used for it.
func Named(text string) (Name, bool) {
	key := strings.NewReplacer(" ", "", "-", "", "_", "").Replace(strings.ToLower(text))
	if n, ok := map[string]Name{
		"utf8": UTF8, "unicode": UTF8, "utf16": UTF16LE, "utf16le": UTF16LE, "utf16be": UTF16BE,
		"windows1252": Windows1252, "cp1252": Windows1252, "1252": Windows1252, "ansi": Windows1252, "latin1": Windows1252, "iso88591": Windows1252,
		"macintosh": MacRoman, "mac": MacRoman, "macroman": MacRoman,
		"cp437": DOS437, "437": DOS437, "ibm437": DOS437, "dos": DOS437, "cp850": DOS850, "850": DOS850, "ibm850": DOS850,
		"windows1250": Windows1250, "cp1250": Windows1250, "1250": Windows1250,
	}[key]; ok {
		return n, true
	}
	return "", false
}

// Decoded is what the bytes say, as UTF-8.
type Decoded struct {
	Bytes []byte
	As    Name
	// Said is a sentence on how it was read, with a word of the file; empty where nothing was in doubt.
	Said string
	// Doubt holds the readings side by side where nothing settles which is right; Bytes is then empty.
	Doubt []Candidate
}

// Candidate is one word of the file as one character set has it.
type Candidate struct {
	As   Name
	Line int // of the word, counted from 1
	Word string
}

// Decode reads bytes in the character set that is given, or finds it where that is empty. Text that is
// not what its set allows is an error.
func Decode(data []byte, given Name) (Decoded, error) {
	if given != "" {
		return as(data, given)
	}
	switch {
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		return as(data, UTF8)
	case bytes.HasPrefix(data, []byte("\xff\xfe")):
		return as(data, UTF16LE)
	case bytes.HasPrefix(data, []byte("\xfe\xff")):
		return as(data, UTF16BE)
	}
	if n, ok := wide(data); ok {
		return as(data, n)
	}
	if utf8.Valid(data) {
		return as(data, UTF8)
	}
	return guess(data), nil
}

// wide finds UTF-16 without a mark: more than 30 % of every second byte are zero.
func wide(data []byte) (Name, bool) {
	if len(data) < 4 || len(data)%2 != 0 {
		return "", false
	}
	zero := [2]int{}
	for i, c := range data[:min(len(data), 1<<16)] {
		if c == 0 {
			zero[i%2]++
		}
	}
	half := min(len(data), 1<<16) / 2
	switch {
	case zero[1]*10 > half*3 && zero[0] < zero[1]:
		return UTF16LE, true
	case zero[0]*10 > half*3 && zero[1] < zero[0]:
		return UTF16BE, true
	}
	return "", false
}

func as(data []byte, n Name) (Decoded, error) {
	t := Decoded{As: n}
	if n == UTF8 {
		t.Bytes = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
		if !utf8.Valid(t.Bytes) {
			return Decoded{}, fmt.Errorf("line %d is not %s", 1+bytes.Count(t.Bytes[:firstInvalid(t.Bytes)], []byte("\n")), n)
		}
		return t, nil
	}
	out, err := decoder(n).Bytes(data)
	if err != nil {
		return Decoded{}, fmt.Errorf("it is not %s: %w", n, err)
	}
	t.Bytes = out
	return t, nil
}

func firstInvalid(data []byte) int {
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return len(data)
}

func decoder(n Name) *encoding.Decoder {
	switch n {
	case UTF16LE:
		return unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewDecoder()
	case UTF16BE:
		return unicode.UTF16(unicode.BigEndian, unicode.UseBOM).NewDecoder()
	case MacRoman:
		return charmap.Macintosh.NewDecoder()
	case DOS437:
		return charmap.CodePage437.NewDecoder()
	case DOS850:
		return charmap.CodePage850.NewDecoder()
	case Windows1250:
		return charmap.Windows1250.NewDecoder()
	case UTF8, Windows1252:
	}
	return charmap.Windows1252.NewDecoder()
}
