/** Object identifiers of what stands in signatures and time stamps, each with the document that assigns it. */
export const OID = {
  /** RFC 5652. */
  data: '1.2.840.113549.1.7.1',
  signedData: '1.2.840.113549.1.7.2',
  contentType: '1.2.840.113549.1.9.3',
  messageDigest: '1.2.840.113549.1.9.4',
  signingTime: '1.2.840.113549.1.9.5',
  /** RFC 5035; the first form, of RFC 2634, rests on SHA-1. */
  signingCertificate: '1.2.840.113549.1.9.16.2.12',
  signingCertificateV2: '1.2.840.113549.1.9.16.2.47',
  /** RFC 3161, appendix A. */
  signatureTimeStamp: '1.2.840.113549.1.9.16.2.14',
  timeStampContent: '1.2.840.113549.1.9.16.1.4',
  /** RFC 3370: named in old answers and signatures, never taken as a proof. */
  sha1: '1.3.14.3.2.26',
  /** RFC 5754. */
  sha256: '2.16.840.1.101.3.4.2.1',
  sha384: '2.16.840.1.101.3.4.2.2',
  sha512: '2.16.840.1.101.3.4.2.3',
  /** RFC 8017. */
  rsa: '1.2.840.113549.1.1.1',
  rsaPss: '1.2.840.113549.1.1.10',
  mgf1: '1.2.840.113549.1.1.8',
  /** RFC 5758. */
  ecdsaWithSha256: '1.2.840.10045.4.3.2',
  /** RFC 6960. */
  ocsp: '1.3.6.1.5.5.7.48.1',
  ocspBasic: '1.3.6.1.5.5.7.48.1.1',
  ocspSigning: '1.3.6.1.5.5.7.3.9',
  /** RFC 5280. */
  authorityInformation: '1.3.6.1.5.5.7.1.1',
  crlDistributionPoints: '2.5.29.31',
} as const;
