//! A packet's fingerprint: a short hash of everything that is printed, so that sheets of two editions can't be
//! mixed unseen. It guards against mix-ups, not against forgery.

use super::sheet::Packet;
use super::text;

/// Ten characters in two groups, from the 64-bit FNV-1a hash of the packet's plain text (the fingerprint itself left
/// out). The alphabet leaves out letters that are read wrongly on a greasy sheet.
pub fn fingerprint(packet: &Packet) -> String {
    const ALPHABET: &[u8; 32] = b"0123456789abcdefghjkmnpqrstvwxyz";
    let mut bare = packet.clone();
    bare.footer.fingerprint.clear();
    let mut hash = fnv1a(text::plain_text(&bare).as_bytes());
    let mut out = String::new();
    for index in 0..10 {
        if index == 5 {
            out.push('-');
        }
        out.push(char::from(ALPHABET[(hash & 31) as usize]));
        hash >>= 5;
    }
    out
}

/// FNV-1a, 64 bits (Fowler, Noll, Vo; draft-eastlake-fnv).
fn fnv1a(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fnv_agrees_with_its_published_vectors() {
        // draft-eastlake-fnv, test vectors of FNV-1a 64.
        assert_eq!(fnv1a(b""), 0xcbf2_9ce4_8422_2325);
        assert_eq!(fnv1a(b"a"), 0xaf63_dc4c_8601_ec8c);
        assert_eq!(fnv1a(b"foobar"), 0x8594_4171_f739_67e8);
    }
}
