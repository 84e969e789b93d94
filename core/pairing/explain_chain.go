package pairing

import "bygone.example/core/finding"

// The codes of chains that say what they are expected to make.
const (
	ExpectDifferent finding.Code = "expect-different"
	ExpectBroken    finding.Code = "expect-broken"
)

var ofChains = map[finding.Code]Explanation{
	ExpectDifferent: {
		Severity: finding.Fault, Title: "A chain no longer makes what is expected of it",
		Why:    "Somebody changed the pattern, the chain, a plugin or the program, and the garment comes out otherwise than the one that was looked at and kept.",
		Remedy: "Look at the difference (bygone compare CHAIN -o FILE draws it). If it is meant, run the chain again and keep what it makes as the new result; if not, undo the change.",
	},
	ExpectBroken: {
		Severity: finding.Fault, Title: "A chain does not run to its end over a pattern that it is tried on",
		Why:    "Nothing comes out that could be laid over the expected result.",
		Remedy: "Read the reason, and mend the chain or the file it names.",
	},
}
