import { createHash, type X509Certificate } from 'node:crypto';
import { CertID, OCSPRequest, Request, TBSRequest } from '@peculiar/asn1-ocsp';
import { AsnConvert, OctetString } from '@peculiar/asn1-schema';
import { AlgorithmIdentifier } from '@peculiar/asn1-x509';
import { readCertificateFacts } from './certificate-facts.ts';
import { decode, nameCertificate, rawOf } from './der.ts';
import { OID } from './object-identifiers.ts';

/**
 * The question whether a certificate was revoked (RFC 6960, 4.1), in DER. Issuers are named there by SHA-1, which every server knows; it
 * protects nothing.
 */
export function encodeOcspRequest(certificate: X509Certificate, issuer: X509Certificate): Uint8Array {
  const { subject, publicKey } = readCertificateFacts(issuer);
  const digest = (of: Uint8Array): OctetString => new OctetString(createHash('sha1').update(of).digest());
  const { serialNumber } = nameCertificate(decode(certificate.raw));
  const reqCert = new CertID({
    hashAlgorithm: new AlgorithmIdentifier({ algorithm: OID.sha1, parameters: null }),
    issuerNameHash: digest(subject),
    issuerKeyHash: digest(publicKey),
    serialNumber: Uint8Array.from(rawOf(serialNumber).subarray(2)).buffer,
  });
  const tbsRequest = new TBSRequest({ requestList: [new Request({ reqCert })] });
  return new Uint8Array(AsnConvert.serialize(new OCSPRequest({ tbsRequest })));
}
