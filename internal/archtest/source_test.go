package archtest

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"
)

// root is the project's folder, seen from this package's tests.
const root = "../.."

// maxLines of a source file that is neither a test nor generated.
const maxLines = 600

// files calls f for every file of the project, slash path and content; what is
// built or is git's own is left out.
func files(t *testing.T, f func(path string, content []byte)) {
	t.Helper()
	n := 0
	err := filepath.WalkDir(root, func(path string, d os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		if d.IsDir() {
			switch rel {
			case ".git", "out", "bin":
				return filepath.SkipDir
			}
			return nil
		}
		if !d.Type().IsRegular() || rel == ".git" { // of a linked working tree it is a file
			return nil
		}
		content, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		n++
		f(rel, content)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if n < 50 {
		t.Fatalf("found %d files: the rules are not being tried", n)
	}
}

func TestFileLength(t *testing.T) {
	files(t, func(path string, content []byte) {
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || strings.HasSuffix(path, ".pb.go") {
			return
		}
		if n := strings.Count(string(content), "\n"); n > maxLines {
			t.Errorf("%s has %d lines, over %d: has it one reason to exist?", path, n, maxLines)
		}
	})
}

// machinePath finds a path of somebody's machine. It is put together so that
// it does not find itself.
var machinePath = regexp.MustCompile(`(^|[^\w.~-])/(` + strings.Join([]string{"work", "root", "home/[a-z]+", "Users/[A-Za-z]+", "tmp/bash"}, "|") + `)[/_.]`)

func TestNoMachinePaths(t *testing.T) {
	for text, want := range map[string]bool{
		"see /" + "work/main/x": true, `"/` + `root/go"`: true, "/tmp/" + "bash_jobs": true,
		"patchwork/main": false, "net/work/x": false, "/tmp/x": false, "../root/": false,
	} {
		if machinePath.MatchString(text) != want {
			t.Errorf("machinePath on %q: %v, want %v", text, !want, want)
		}
	}
	files(t, func(path string, content []byte) {
		if !utf8.Valid(content) || strings.ContainsRune(string(content), 0) {
			return
		}
		for i, line := range strings.Split(string(content), "\n") {
			if found := machinePath.FindString(line); found != "" {
				t.Errorf("%s:%d: holds a path of one machine: %q", path, i+1, found)
			}
		}
	})
}

// What the library may not do, and why. Tests may.
var librarySins = map[string]string{
	"fmt.Print": "prints", "fmt.Printf": "prints", "fmt.Println": "prints",
	"os.Exit": "ends the program", "log.Fatal": "ends the program", "log.Fatalf": "ends the program",
	"log.Print": "logs for the whole program", "log.Printf": "logs for the whole program", "log.Println": "logs for the whole program",
	"os.Getenv": "reads the environment", "os.LookupEnv": "reads the environment", "os.Environ": "reads the environment",
	"os.Getwd": "reads the working folder", "time.Now": "reads the clock", "time.Since": "reads the clock",
}

// pardoned are the packages that start, watch and end processes: they need the
// clock and hand an environment on.
var pardoned = map[string][]string{
	"core/host": {"os.Environ", "os.Getenv", "os.LookupEnv", "time.Now", "time.Since"},
}

func TestLibraryKeepsToItself(t *testing.T) {
	goFiles(t, func(path string, fset *token.FileSet, file *ast.File) {
		dir := filepath.ToSlash(filepath.Dir(path))
		if !strings.HasPrefix(path, "core/") || strings.HasSuffix(path, "_test.go") {
			return
		}
		for _, s := range sins(file) {
			if why, bad := librarySins[s.what]; bad && !strings.Contains(" "+strings.Join(pardoned[dir], " ")+" ", " "+s.what+" ") {
				t.Errorf("%s:%d: %s: a package of the library %s", path, fset.Position(s.at).Line, s.what, why)
			}
		}
	})
}

type sin struct {
	what string
	at   token.Pos
}

// sins returns every pkg.Name in the file whose pkg is an import of it.
func sins(file *ast.File) []sin {
	imported := map[string]string{}
	for _, i := range file.Imports {
		path := strings.Trim(i.Path.Value, `"`)
		name := path[strings.LastIndex(path, "/")+1:]
		if i.Name != nil {
			name = i.Name.Name
		}
		imported[name] = path
	}
	var found []sin
	ast.Inspect(file, func(n ast.Node) bool {
		if s, ok := n.(*ast.SelectorExpr); ok {
			if x, ok := s.X.(*ast.Ident); ok && x.Obj == nil && imported[x.Name] != "" {
				found = append(found, sin{imported[x.Name] + "." + s.Sel.Name, s.Pos()})
			}
		}
		return true
	})
	return found
}

func goFiles(t *testing.T, f func(path string, fset *token.FileSet, file *ast.File)) {
	t.Helper()
	files(t, func(path string, content []byte) {
		if !strings.HasSuffix(path, ".go") {
			return
		}
		fset := token.NewFileSet()
		file, err := parser.ParseFile(fset, path, content, parser.ParseComments)
		if err != nil {
			t.Error(err)
			return
		}
		f(path, fset, file)
	})
}

// Tests are skipped in one place only, which turns a skip into a failure
// under CI=true. A property test may pass over a drawn value: that is
// rapid's Skip, not testing's.
func TestNoSilentSkips(t *testing.T) {
	goFiles(t, func(path string, fset *token.FileSet, file *ast.File) {
		if strings.HasPrefix(path, "internal/testtool/") {
			return
		}
		for _, at := range skips(file) {
			t.Errorf("%s: skips a test; use testtool.Path or testtool.Skip, which CI=true turns into a failure", fmt.Sprint(path, ":", fset.Position(at).Line))
		}
	})
}

// skips returns where the file calls Skip, Skipf or SkipNow on a value of
// package testing.
func skips(file *ast.File) []token.Pos {
	var found []token.Pos
	testers := []map[string]bool{} // of the functions around a call: is the parameter testing's?
	var walk func(n ast.Node) bool
	enter := func(params *ast.FieldList, body *ast.BlockStmt) {
		names := map[string]bool{}
		for _, p := range params.List {
			for _, name := range p.Names {
				names[name.Name] = isTesting(p.Type)
			}
		}
		testers = append(testers, names)
		if body != nil {
			ast.Inspect(body, walk)
		}
		testers = testers[:len(testers)-1]
	}
	walk = func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.FuncDecl:
			enter(n.Type.Params, n.Body)
			return false
		case *ast.FuncLit:
			enter(n.Type.Params, n.Body)
			return false
		case *ast.CallExpr:
			s, ok := n.Fun.(*ast.SelectorExpr)
			if !ok || s.Sel.Name != "Skip" && s.Sel.Name != "Skipf" && s.Sel.Name != "SkipNow" {
				return true
			}
			x, ok := s.X.(*ast.Ident)
			if !ok {
				return true
			}
			for i := len(testers) - 1; i >= 0; i-- {
				if yes, known := testers[i][x.Name]; known {
					if yes {
						found = append(found, n.Pos())
					}
					break
				}
			}
		}
		return true
	}
	ast.Inspect(file, walk)
	return found
}

// isTesting reports whether a type is *testing.T, *testing.B, *testing.F or
// testing.TB.
func isTesting(e ast.Expr) bool {
	if star, ok := e.(*ast.StarExpr); ok {
		e = star.X
	}
	s, ok := e.(*ast.SelectorExpr)
	if !ok {
		return false
	}
	x, ok := s.X.(*ast.Ident)
	return ok && x.Name == "testing"
}

func TestSkipsAreFound(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "x.go", `package x
import ("testing"; "pgregory.net/rapid"; "os"; "time")
func TestA(t *testing.T) { t.Skip("found"); rapid.Check(t, func(t *rapid.T) { t.Skip("not") }) }
func TestB(t *testing.T) { t.Run("", func(t *testing.T) { t.SkipNow() }) }
func c(tb testing.TB) { tb.Skipf(os.Getenv("found"), time.Second) }
`, 0)
	if err != nil {
		t.Fatal(err)
	}
	if got := len(skips(file)); got != 3 {
		t.Errorf("found %d skips, want 3", got)
	}
	got := map[string]bool{}
	for _, s := range sins(file) {
		got[s.what] = true
	}
	if !got["os.Getenv"] || !got["time.Second"] || got["time.Now"] {
		t.Errorf("sins found: %v", got)
	}
}
