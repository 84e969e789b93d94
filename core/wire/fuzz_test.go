package wire_test

import (
	"testing"

	"google.golang.org/protobuf/proto"

	pluginv1 "bygone.example/proto/gen/bygone/plugin/v1"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/core/wire"
)

// FuzzAnswer holds that decoding any bytes neither panics nor lets through what
// cannot be sent on: an answer that is taken encodes again, and is then taken
// again. The corpus is in testdata/fuzz/FuzzAnswer.
func FuzzAnswer(f *testing.F) {
	for _, m := range []*pluginv1.ApplyResponse{
		{Outcome: &pluginv1.ApplyResponse_Altered{Altered: goodAnswer()}},
		wire.EncodeRefusal(&operation.Refusal{Why: "no sleeve", Instead: "add one"}),
	} {
		b, err := proto.Marshal(m)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		m := &pluginv1.ApplyResponse{}
		if proto.Unmarshal(b, m) != nil {
			return
		}
		a, err := wire.DecodeAnswer(m)
		if err != nil {
			if len(err.Error()) > 16<<10 {
				t.Fatalf("the error has %d bytes", len(err.Error()))
			}
			return
		}
		for _, piece := range a.Pattern.Pieces {
			if !pattern.ValidDotted(piece.Name) || !piece.Boundary().Finite() {
				t.Fatalf("piece %q came through", piece.Name)
			}
		}
		again, err := wire.EncodeAnswer(a)
		if err != nil {
			t.Fatalf("taken, but cannot be sent on: %v", err)
		}
		if _, err := wire.DecodeAnswer(again); err != nil {
			t.Fatalf("taken once, but not twice: %v", err)
		}
	})
}
