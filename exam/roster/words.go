package roster

import (
	"crypto/ed25519"
	"crypto/sha256"
	_ "embed"
	"strings"
	"sync"
)

// The English word list of BIP 39 (2,048 words of which the first four letters differ;
// MIT licence): words that are easily told apart when they are read aloud.
//
//go:embed words.txt
var wordText string

var wordList = sync.OnceValue(func() []string { return strings.Fields(wordText) })

// wordCount words of 11 bits each: whoever wants a key of his own to sound like another
// must make 2^65 keys.
const wordCount = 6

// words are six words for a key and a name.
func words(domain string, key ed25519.PublicKey, name string) string {
	h := sha256.New()
	h.Write([]byte(domain))
	h.Write(key)
	h.Write([]byte(name))
	sum := h.Sum(nil)
	bit := 0
	out := make([]string, wordCount)
	for i := range out {
		n := 0
		for range 11 {
			n = n<<1 | int(sum[bit/8]>>(7-bit%8)&1)
			bit++
		}
		out[i] = wordList()[n]
	}
	return strings.Join(out, " ")
}

// SameWords says whether words that were typed are the ones that are meant.
func SameWords(typed, meant string) bool {
	return strings.Join(strings.Fields(strings.ToLower(typed)), " ") == meant
}
