package shelf

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"

	yamlfile "bygone.example/core/format/yaml"
)

// whole is a sum over the shelf that a shard is a part of: every file's path and
// text, and the texts of those that chains name. To read them all is cheap
// beside checking them, and without it what one shard has left to another could
// be a file that the other never saw.
func (n *Inspector) whole(found Found) string {
	h := sha256.New()
	for _, f := range found.Files {
		data, err := f.read()
		add(h, []byte(f.slash()), data, fault(err))
		if kind, _ := Sniff(data); kind != Chain {
			continue
		}
		c, err := yamlfile.ReadChain(f.slash(), data)
		if err != nil {
			continue // it is refused wherever it is checked
		}
		files := n.namedBy(f.slash())
		for _, r := range references(c) {
			data, err := files.read(r.file, r.kind)
			add(h, []byte(r.file), data, fault(err))
		}
	}
	return hex.EncodeToString(h.Sum(nil)[:16])
}

// fault is what a sum takes of an error: its presence, since systems differ in
// what they say.
func fault(err error) []byte {
	if err != nil {
		return []byte("!")
	}
	return nil
}

// add adds parts to a sum, each with its length, so that none runs into the
// next.
func add(h hash.Hash, parts ...[]byte) {
	for _, part := range parts {
		fmt.Fprintf(h, "%d\n", len(part))
		h.Write(part)
	}
}
