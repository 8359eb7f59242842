"""Currencies: the active alphabetic codes of ISO 4217 and how many decimal places each amount has.

ISO 4217 list one as published on 1 January 2026. Codes with no minor unit (metals, baskets, test codes) can't state a
price and are left out.
"""

from __future__ import annotations

_NO_PLACES = """
    BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF
"""
_TWO_PLACES = """
    AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF
    CHE CHF CHW CNY COP COU CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD
    GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL
    MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR
    PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP
    TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST XAD XCD XCG YER ZAR ZMW ZWG
"""
_THREE_PLACES = """
    BHD IQD JOD KWD LYD OMR TND
"""
_FOUR_PLACES = """
    CLF UYW
"""

MINOR_DIGITS: dict[str, int] = {
    code: places
    for places, codes in ((0, _NO_PLACES), (2, _TWO_PLACES), (3, _THREE_PLACES), (4, _FOUR_PLACES))
    for code in codes.split()
}
