package wearer

import (
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"strconv"
	"testing"
)

// All leaves out no measure that is declared, and names none twice.
func TestAllIsWhole(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "wearer.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	declared := 0
	ast.Inspect(file, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok || len(spec.Values) != 1 {
			return true
		}
		if typ, ok := spec.Type.(*ast.Ident); ok && typ.Name == "Measure" {
			declared++
			name, err := strconv.Unquote(spec.Values[0].(*ast.BasicLit).Value)
			if err != nil || !slices.Contains(All(), Measure(name)) {
				t.Errorf("All does not have %s", name)
			}
		}
		return true
	})
	all := All()
	slices.Sort(all)
	if declared == 0 || len(slices.Compact(all)) != declared {
		t.Errorf("All has %d measures, declared are %d", len(all), declared)
	}
}
