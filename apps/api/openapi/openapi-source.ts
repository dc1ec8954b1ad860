import { OpenAPIObject } from '@nestjs/swagger';

/** Keeps the document, which can only be made once all routes are known. */
export class OpenApiSource {
  private document: OpenAPIObject | undefined;

  set(document: OpenAPIObject): void {
    this.document = document;
  }

  /** @throws Error before the service has started */
  get(): OpenAPIObject {
    if (this.document === undefined) throw new Error('the routes are not described yet');
    return this.document;
  }
}
