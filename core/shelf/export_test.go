package shelf

// CacheKey and CachePut let tests lay a result into a cache.
func CacheKey(c *Cache, n *Inspector, kind Kind, data []byte) string {
	return c.key(n.settings(nil), kind, data)
}

func CachePut(c *Cache, key string, found Checked) { c.put(key, found) }
