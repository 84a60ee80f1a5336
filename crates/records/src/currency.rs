//! The codes of ISO 4217 and how many decimals their sums are written with.
//!
//! A code that is not listed is no error: money is written as it was typed. But it is said, for a misspelt one would stand in
//! the report that an owner is handed.

use crate::wording::nearest;

/// The currencies of ISO 4217:2015, list one as published on 2026-01-01, by their decimals. Metals, units of account and codes
/// for testing, which have none, are left out: nobody is paid in them.
const BY_DECIMALS: [(usize, &str); 4] = [
    (
        0,
        "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF",
    ),
    (
        2,
        "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF CHE CHF \
         CHW CNY COP COU CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL \
         HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU \
         MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR \
         SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN UYU UZS VED \
         VES WST XAD XCD XCG YER ZAR ZMW ZWG",
    ),
    (3, "BHD IQD JOD KWD LYD OMR TND"),
    (4, "CLF UYW"),
];

/// Returns how many decimals a sum in a currency has; `None` for a code that is not listed.
///
/// # Source
/// ISO 4217:2015, list one (current currency and funds codes) of 2026-01-01.
///
/// # Checked against
/// `validation/currency/iso4217`
///
/// # Example
/// ```
/// assert_eq!(records::currency::decimals("JPY"), Some(0));
/// assert_eq!(records::currency::decimals("KWD"), Some(3));
/// assert_eq!(records::currency::decimals("UDS"), None);
/// ```
pub fn decimals(code: &str) -> Option<usize> {
    let mut groups = BY_DECIMALS.iter();
    let group = groups.find(|(_, codes)| codes.split(' ').any(|known| known == code));
    group.map(|(decimals, _)| *decimals)
}

/// Returns the listed code that was probably meant by one that is not listed: one with two letters the other way round, else
/// the first that differs in one letter from a code in wide use.
pub fn meant(code: &str) -> Option<&'static str> {
    let codes: Vec<&'static str> = BY_DECIMALS
        .iter()
        .flat_map(|(_, codes)| codes.split(' '))
        .collect();
    let sorted = |code: &str| {
        let mut letters: Vec<char> = code.chars().collect();
        letters.sort_unstable();
        letters
    };
    let turned = codes.iter().find(|known| sorted(known) == sorted(code));
    turned.copied().or_else(|| nearest(code, &WIDELY_USED))
}

/// Currencies in wide use, the likely meaning of a misspelt code (common practice, no source).
const WIDELY_USED: [&str; 12] = [
    "USD", "EUR", "GBP", "CAD", "AUD", "CHF", "MXN", "BRL", "ZAR", "NZD", "JPY", "INR",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_code_is_listed_as_the_standard_lists_it() {
        let evidence = include_str!("../../../validation/currency/iso4217/codes.csv");
        let mut count = 0;
        for line in evidence.lines().skip(1) {
            let (code, known) = line.split_once(',').unwrap();
            assert_eq!(decimals(code), known.parse().ok(), "{code}");
            count += 1;
        }
        let own: usize = BY_DECIMALS
            .iter()
            .map(|(_, codes)| codes.split(' ').count())
            .sum();
        assert_eq!((count, own), (178, 165));
    }

    #[test]
    fn a_misspelt_code_has_a_meaning() {
        for (typed, meant_by) in [("UDS", "USD"), ("EUX", "EUR"), ("GPB", "GBP")] {
            assert_eq!(meant(typed), Some(meant_by), "{typed}");
        }
        assert_eq!(meant("QQQ"), None);
    }
}
