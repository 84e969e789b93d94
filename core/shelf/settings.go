package shelf

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"

	"bygone.example/core/pairing"
	"bygone.example/core/rules"
)

// settings is a sum over what the findings of any file depend on beside the
// file: tolerances, wearer and cloth, and exceptions where there are rules.
func (n *Inspector) settings(in *InForce) string {
	o := n.Pairing
	if o.Tolerances == nil {
		t := pairing.DefaultTolerances()
		o.Tolerances = &t
	}
	var exceptions []rules.Exception
	if in != nil {
		exceptions = in.Exceptions
	}
	text, err := json.Marshal(struct {
		Options    pairing.Options
		Exceptions []rules.Exception
	}{o, exceptions})
	if err != nil { // numbers that are no numbers: never equal to anything
		return ""
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:16])
}
