package charset_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"loosebox/exam/intake/charset"
)

func encoded(t *testing.T, e encoding.Encoding, text string) []byte {
	t.Helper()
	out, err := e.NewEncoder().Bytes([]byte(text))
	require.NoError(t, err)
	return out
}

const yard = "Name;Temp;Remark\nZoë;38,1 °C;ließ Heu übrig\nBjörn;37,9 °C;größer geworden\nMañana;38,4 °C;déjà vu\n"

// The tables behind the sets are those of golang.org/x/text; what is tried here is which set is found.
func TestTheSetIsFoundAndSaid(t *testing.T) {
	for name, c := range map[string]struct {
		bytes []byte
		as    charset.Name
	}{
		"utf-8":             {[]byte(yard), charset.UTF8},
		"utf-8 mark":        {append([]byte("\xef\xbb\xbf"), yard...), charset.UTF8},
		"utf-16le mark":     {encoded(t, unicode.UTF16(unicode.LittleEndian, unicode.UseBOM), yard), charset.UTF16LE},
		"utf-16be mark":     {encoded(t, unicode.UTF16(unicode.BigEndian, unicode.UseBOM), yard), charset.UTF16BE},
		"utf-16le bare":     {encoded(t, unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM), yard), charset.UTF16LE},
		"utf-16be bare":     {encoded(t, unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM), yard), charset.UTF16BE},
		"windows-1252":      {encoded(t, charmap.Windows1252, yard), charset.Windows1252},
		"mac":               {encoded(t, charmap.Macintosh, yard), charset.MacRoman},
		"degrees on a mac":  {encoded(t, charmap.Macintosh, "Temp\n38.1°\n37.9°\n"), charset.MacRoman},
		"windows in a yard": {encoded(t, charmap.Windows1252, "Name,Remark\nBramble,won’t eat – “off”\nTeasel,100.4°F\n"), charset.Windows1252},
	} {
		got, err := charset.Decode(c.bytes, "")
		require.NoError(t, err, name)
		assert.Equal(t, c.as, got.As, "%s: %v", name, got.Doubt)
		assert.NotContains(t, string(got.Bytes), "?", name)
		if c.as == charset.Windows1252 || c.as == charset.MacRoman {
			assert.Contains(t, got.Said, string(c.as))
		}
	}
	got, err := charset.Decode(encoded(t, charmap.Macintosh, yard), "")
	require.NoError(t, err)
	assert.Equal(t, yard, string(got.Bytes))
	assert.Contains(t, got.Said, "line 2 has Zoë")
}

// What nothing settles is asked, with the readings side by side; the answer is taken.
func TestADoubtIsAsked(t *testing.T) {
	data := encoded(t, charmap.Macintosh, "Name\nSm\u00ebl\n")
	got, err := charset.Decode(data, "")
	require.NoError(t, err)
	if len(got.Doubt) == 0 {
		assert.Equal(t, charset.MacRoman, got.As, "or it is right")
	}
	got, err = charset.Decode(data, charset.MacRoman)
	require.NoError(t, err)
	assert.Equal(t, "Name\nSm\u00ebl\n", string(got.Bytes))
	_, err = charset.Decode(data, charset.UTF8)
	require.ErrorContains(t, err, "line 2 is not utf-8")
	for _, n := range charset.Names() {
		named, ok := charset.Named(string(n))
		assert.True(t, ok)
		assert.Equal(t, n, named)
	}
}
