# make test      all tests and checks; installs what they need on a bare machine
# make contract  the contracts in proto/: lint, format, breaking, generated code
# make generate  writes proto/gen and testdata/patterns anew
# make bench     benchmarks
# make matrix    every operation on every body of testdata/bodies: some minutes
# make build     bin/bygone

export CGO_ENABLED = 0

.PHONY: test install vet contract generate bench matrix build

test: install vet
	@.ci/test

install:
	@.ci/install

vet:
	@unformatted=$$(gofmt -l $$(git ls-files -co --exclude-standard '*.go')); \
		if [ -n "$$unformatted" ]; then echo "not formatted:"; echo "$$unformatted"; exit 1; fi
	go vet ./...
	go tool -modfile=tools/go.mod staticcheck ./...

contract:
	@.ci/contract

generate:
	@.ci/contract write
	go generate ./...

bench:
	go test -run '^$$' -bench . -benchmem ./...

# Another file of bodies: make matrix BODIES=FILE
matrix:
	go test ./internal/matrix -run Matrix -v -timeout 4h -every 1 $(if $(BODIES),-bodies "$(abspath $(BODIES))")

build:
	go build -trimpath -o bin/bygone ./cmd/bygone
