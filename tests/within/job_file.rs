use super::*;

#[test]
fn the_hash_is_the_published_one() {
    // Test vectors of the authors (Fowler, Noll, Vo) for "", "a", "foobar"; from memory.
    for (text, fnv1a) in [("", 0xcbf2_9ce4_8422_2325), ("a", 0xaf63_dc4c_8601_ec8c), ("foobar", 0x8594_4171_f739_67e8)]
    {
        assert_eq!(Stamp::of(text.as_bytes()), Stamp { len: text.len() as u64, fnv1a }, "{text}");
    }
}
