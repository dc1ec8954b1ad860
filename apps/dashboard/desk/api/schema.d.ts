// Made from the OpenAPI document by "npm run client-types"; a spec fails where the two differ.

export interface paths {
    "/v1/assemblies/{assembly}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getAssembly"];
        put: operations["putAssembly"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/assemblies": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listAssemblies"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/assemblies/{assembly}/revisions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listAssemblyRevisions"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/parts/{part}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getPart"];
        put: operations["putPart"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/parts": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listParts"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/parts/{part}/classification": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["classifyPart"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/parts/{part}/revisions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listPartRevisions"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/stations/{station}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getStation"];
        put: operations["putStation"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/stations": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listStations"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/stations/{station}/revisions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listStationRevisions"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/stations/{station}/keys": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listStationKeys"];
        put?: never;
        post: operations["issueStationKey"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/stations/{station}/keys/{keyId}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post?: never;
        delete: operations["revokeStationKey"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/people": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listPeople"];
        put?: never;
        post: operations["addPerson"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/people/{name}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getPerson"];
        put: operations["revisePerson"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/people/{name}/changes": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listPersonChanges"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/people/{name}/password": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post: operations["setPersonPassword"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/people/{name}/erasure": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post: operations["erasePerson"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/session": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getSession"];
        put?: never;
        post: operations["signIn"];
        delete: operations["signOut"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/operators/{operator}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getOperator"];
        put: operations["putOperator"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/operators": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listOperators"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/operators/{operator}/revisions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listOperatorRevisions"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/profiles/{profile}/revisions/{revision}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getProfile"];
        put: operations["putProfile"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/profiles": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listProfiles"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/profiles/{profile}/revisions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listProfileRevisions"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/profiles/{profile}/revisions/{revision}/history": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listProfileHistory"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/limits/{limit}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getLimit"];
        put: operations["putLimit"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/limits/{limit}/what-if": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post: operations["whatIfLimit"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/limits": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listLimits"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/limits/{limit}/revisions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listLimitRevisions"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/limits/{limit}/rechecks": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listLimitRechecks"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/copper-rates/{alloy}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getCopperRate"];
        put: operations["putCopperRate"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/copper-rates": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listCopperRates"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/copper-rates/{alloy}/revisions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listCopperRateRevisions"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/method-plans": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post: operations["planDressing"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/damage-rates": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listDamageRates"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/events": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getEvent"];
        put?: never;
        post: operations["postEvents"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/events/parked": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listParkedEvents"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/events/retries": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post: operations["retryParkedEvents"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/queue": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getQueue"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/station-reports": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listStationReports"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/station-reports/{station}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getStationReport"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/stations/{station}/units": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listStationUnits"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/units": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listUnits"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/units/{assembly}/{serial}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getUnit"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/units/{assembly}/{serial}/ledger": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getUnitLedger"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/units/{assembly}/{serial}/audit": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["exportUnitAudit"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/audits": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listArchives"];
        put?: never;
        post: operations["askForArchive"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/audits/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getArchive"];
        put?: never;
        post?: never;
        delete: operations["deleteArchive"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/audits/{id}/archive": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["downloadArchive"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/devices/{device}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getDevice"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/devices/{device}/ledger": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getDeviceLedger"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/search": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["search"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/clearances": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listClearances"];
        put?: never;
        post: operations["requestClearance"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/clearances/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getClearance"];
        put?: never;
        post?: never;
        delete: operations["returnClearance"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/holds": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listHolds"];
        put?: never;
        post: operations["raiseHold"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/holds/summary": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["summariseHolds"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/holds/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getHold"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/notices": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listNotices"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/notices/{id}/acknowledgement": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post: operations["acknowledgeNotice"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/holds/{id}/dispositions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post: operations["disposeHold"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/holds/{id}/release": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post: operations["releaseHold"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/holds/{id}/comments": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post: operations["commentHold"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/holds/{id}/assignment": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put: operations["assignHold"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/hold-assignments": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post: operations["assignHolds"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/concessions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listConcessions"];
        put?: never;
        post: operations["signConcession"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/concessions/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getConcession"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/concessions/{id}/withdrawal": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post: operations["withdrawConcession"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/annulments": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post: operations["annulEvent"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/containments": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listContainments"];
        put?: never;
        post: operations["contain"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/containments/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getContainment"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/containments/{id}/units": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listContained"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/containments/{id}/repeat": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post: operations["repeatContainment"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/retentions/{customer}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getRetention"];
        put: operations["putRetention"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/retentions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listRetentions"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/retentions/due": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listDue"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/retentions/{customer}/revisions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listRetentionRevisions"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/legal-holds": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listLegalHolds"];
        put?: never;
        post: operations["setLegalHold"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/legal-holds/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getLegalHold"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/legal-holds/{id}/lift": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post: operations["liftLegalHold"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/traces/{trace}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getTrace"];
        put: operations["putTrace"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/traces/{trace}/analysis": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["analyse"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/traces/{trace}/curve": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getCurve"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/log/checkpoint": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getLogCheckpoint"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/log/keys": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getLogKeys"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/log/proofs/consistency": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["proveConsistency"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/log/proofs/inclusion": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["proveInclusion"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/log/leaves": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listLogLeaves"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/log/censuses": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listCensuses"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/log/censuses/{day}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getCensus"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/access-records": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["listAccessRecords"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/verify": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getVerifyPage"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["openDesk"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/desk": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getDesk"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/desk/{path}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getDeskPart"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/stream": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["follow"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/health/live": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getLive"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/health/ready": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getReady"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/metrics": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getMetrics"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/openapi.json": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getOpenApi"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/asyncapi.json": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get: operations["getAsyncApi"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
}
export type webhooks = Record<string, never>;
export interface components {
    schemas: {
        NeighbourBody: {
            refdes: string;
            gapMm: number;
        };
        SiteBody: {
            refdes: string;
            part: string;
            /** @enum {string} */
            side: "top" | "bottom";
            pads: number;
            padDiameterMm: number;
            padCopperUm: number;
            /** @enum {string} */
            finish: "osp" | "enig" | "hasl" | "imag" | "imsn";
            ballPitchMm: number;
            ballDiameterMm: number;
            /** @enum {string} */
            jointAlloy: "Sn63Pb37" | "Sn60Pb40" | "Sn62Pb36Ag2" | "SAC305" | "SAC405" | "SAC387" | "SAC105" | "Sn99.3Cu0.7" | "Sn99.3Cu0.7Ni" | "Sn96.5Ag3.5" | "Sn42Bi58" | "Sn42Bi57Ag1";
            xMm: number;
            yMm: number;
            underfilled?: boolean;
            neighbours?: components["schemas"]["NeighbourBody"][];
        };
        AssemblyBody: {
            customer: string;
            description: string;
            leadFree: boolean;
            /** @default 1 */
            assemblyReflows: number | {
                top: number;
                bottom: number;
            };
            sites: components["schemas"]["SiteBody"][];
        };
        PartBody: {
            lengthMm: number;
            widthMm: number;
            thicknessMm: number;
            /** @enum {string} */
            msl: "1" | "2" | "2a" | "3" | "4" | "5" | "5a" | "6";
            /** @enum {string} */
            ballAlloy: "Sn63Pb37" | "Sn60Pb40" | "Sn62Pb36Ag2" | "SAC305" | "SAC405" | "SAC387" | "SAC105" | "Sn99.3Cu0.7" | "Sn99.3Cu0.7Ni" | "Sn96.5Ag3.5" | "Sn42Bi58" | "Sn42Bi57Ag1";
            maxExcursions?: number;
            classificationC?: number;
            moistureBarrier?: boolean;
        };
        ThermocoupleBody: {
            /** @enum {string} */
            type: "K" | "J" | "T";
            /** @enum {number} */
            class: 1 | 2;
        };
        StationBody: {
            kind: string;
            /** Format: date-time */
            calibrationDueAt?: string;
            thermocouple?: components["schemas"]["ThermocoupleBody"];
        };
        NewPersonBody: {
            printedName: string;
            roles: ("operator" | "quality" | "approver" | "customer" | "auditor" | "admin")[];
            customer?: string;
            disabled?: boolean;
            name: string;
            /** Format: password */
            password: string;
        };
        PersonBody: {
            printedName: string;
            roles: ("operator" | "quality" | "approver" | "customer" | "auditor" | "admin")[];
            customer?: string;
            disabled?: boolean;
        };
        NewPasswordBody: {
            /** Format: password */
            password: string;
            /** Format: password */
            current?: string;
        };
        SignatureBody: {
            /** Format: password */
            password: string;
            meaning: string;
        };
        ErasureBody: {
            note: string;
            signature: components["schemas"]["SignatureBody"];
        };
        SignInBody: {
            name: string;
            /** Format: password */
            password: string;
        };
        QualificationBody: {
            /** @enum {string} */
            skill: "braid" | "vacuum" | "fountain" | "coupon" | "removal" | "placement" | "reballing" | "touch-up" | "inspection";
            /** Format: date-time */
            validUntil: string;
        };
        OperatorBody: {
            qualifications: components["schemas"]["QualificationBody"][];
        };
        NeighbourPeakBody: {
            refdes: string;
            peakC: number;
        };
        WindowBody: {
            peakMinC?: number;
            peakMaxC?: number;
            aboveLiquidusMinS?: number;
            aboveLiquidusMaxS?: number;
            riseMaxCPerS?: number;
            fallMaxCPerS?: number;
        };
        ProfileBody: {
            purpose: string;
            /** @enum {string} */
            alloy: "Sn63Pb37" | "Sn60Pb40" | "Sn62Pb36Ag2" | "SAC305" | "SAC405" | "SAC387" | "SAC105" | "Sn99.3Cu0.7" | "Sn99.3Cu0.7Ni" | "Sn96.5Ag3.5" | "Sn42Bi58" | "Sn42Bi57Ag1";
            assembly?: string;
            site?: string;
            /** Format: date-time */
            qualifiedAt?: string;
            neighbourPeaks?: components["schemas"]["NeighbourPeakBody"][];
            window?: components["schemas"]["WindowBody"];
        };
        ScopeBody: {
            customer?: string;
            assembly?: string;
            part?: string;
            refdes?: string;
        };
        LimitBody: {
            /** @enum {string} */
            kind: "device-excursions" | "site-reworks" | "site-dressings" | "site-excursions" | "unit-reflows" | "pad-copper-min" | "joint-lead-max" | "flatness-max" | "void-fraction-max" | "body-peak-max" | "profile-window" | "floor-life" | "qualified-operator" | "calibrated-station" | "method-allowed" | "clearance-required" | "guard-band";
            allowed: number | ("braid" | "vacuum" | "fountain" | "coupon")[] | {
                pitchMm: number;
                max: number;
            }[];
            unit: string;
            scope?: components["schemas"]["ScopeBody"];
            /** @enum {string} */
            action: "hold" | "warn";
            source: string;
            /** Format: date-time */
            effectiveFrom?: string;
            countPossible?: boolean;
        };
        CopperRateBody: {
            flowingUmPerS: number;
            stillUmPerS: number;
            source: string;
        };
        PlannedProfileBody: {
            name: string;
            revision: string;
        };
        PlannedProfilesBody: {
            removal?: components["schemas"]["PlannedProfileBody"];
            placement?: components["schemas"]["PlannedProfileBody"];
            fountain?: components["schemas"]["PlannedProfileBody"];
            coupon?: components["schemas"]["PlannedProfileBody"];
        };
        PlannedPasteBody: {
            /** @enum {string} */
            alloy: "Sn63Pb37" | "Sn60Pb40" | "Sn62Pb36Ag2" | "SAC305" | "SAC405" | "SAC387" | "SAC105" | "Sn99.3Cu0.7" | "Sn99.3Cu0.7Ni" | "Sn96.5Ag3.5" | "Sn42Bi58" | "Sn42Bi57Ag1";
            volumeMm3: number;
        };
        MethodPlanBody: {
            assembly: string;
            serial: string;
            refdes: string;
            /** @enum {string} */
            goal: "new-device" | "reuse-device";
            device?: string;
            profiles?: components["schemas"]["PlannedProfilesBody"];
            /** @enum {string} */
            freshAlloy?: "Sn63Pb37" | "Sn60Pb40" | "Sn62Pb36Ag2" | "SAC305" | "SAC405" | "SAC387" | "SAC105" | "Sn99.3Cu0.7" | "Sn99.3Cu0.7Ni" | "Sn96.5Ag3.5" | "Sn42Bi58" | "Sn42Bi57Ag1";
            paste?: components["schemas"]["PlannedPasteBody"];
            nozzleWidthMm?: number;
        };
        RetryBody: {
            source?: string;
            id?: string;
            /** @enum {boolean} */
            all?: true;
        };
        ArchiveUnitBody: {
            assembly: string;
            serial: string;
        };
        ArchiveBody: {
            assembly?: string;
            serials?: string[];
            units?: components["schemas"]["ArchiveUnitBody"][];
            formats?: ("json" | "csv" | "pdf" | "epcis")[];
            since?: number[];
        };
        ClearanceProfileBody: {
            name: string;
            revision: string;
        };
        ClearanceStepBody: {
            /** @enum {string} */
            type: "heatbook.unit.reflowed.v1" | "heatbook.device.removed.v1" | "heatbook.site.dressed.v1" | "heatbook.device.placed.v1" | "heatbook.site.heated.v1" | "heatbook.device.deballed.v1" | "heatbook.device.reballed.v1";
            refdes?: string;
            device?: string;
            /** @enum {string} */
            method?: "braid" | "vacuum" | "fountain" | "coupon";
            profile?: components["schemas"]["ClearanceProfileBody"];
            /** @enum {string} */
            fate?: "scrap" | "keep";
            /** @enum {string} */
            purpose?: "touch-up" | "removal-attempt" | "aborted" | "other";
            /** @enum {string} */
            side?: "top" | "bottom";
            part?: string;
            passes?: number;
            contactSeconds?: number;
            solderC?: number;
            flowing?: boolean;
            solderAlloy?: string;
            ballAlloy?: string;
            ballDiameterMm?: number;
            /** @enum {string} */
            attach?: "flux" | "paste";
            pasteAlloy?: string;
            pasteVolumeMm3?: number;
            skill?: Record<string, never>;
            spends?: Record<string, never>;
            spreads?: Record<string, never>;
            minutes?: Record<string, never>;
            why?: Record<string, never>;
        };
        ClearanceBody: {
            assembly?: string;
            serial?: string;
            device?: string;
            operator: string;
            station?: string;
            steps: components["schemas"]["ClearanceStepBody"][];
            ttlSeconds?: number;
        };
        AcknowledgeNoticeBody: {
            note?: string;
        };
        HoldSubjectBody: {
            assembly?: string;
            serial?: string;
            refdes?: string;
            device?: string;
            /** @enum {string} */
            kind: "unit" | "site" | "device" | "station" | "operator" | "profile";
            station?: string;
            operator?: string;
            name?: string;
            revision?: string;
        };
        ProfileRevisionBody: {
            name: string;
            revision: string;
        };
        RaiseHoldBody: {
            subject?: components["schemas"]["HoldSubjectBody"];
            assembly?: string;
            serial?: string;
            refdes?: string;
            device?: string;
            station?: string;
            operator?: string;
            profile?: components["schemas"]["ProfileRevisionBody"];
            note: string;
            /** Format: date-time */
            dueAt?: string;
            assignee?: string;
        };
        DisposeHoldBody: {
            /** @enum {string} */
            decision: "use-as-is" | "rework" | "repair" | "scrap" | "return-to-customer";
            note: string;
            signature: components["schemas"]["SignatureBody"];
        };
        ReleaseHoldBody: {
            note: string;
            signature: components["schemas"]["SignatureBody"];
        };
        CommentBody: {
            text: string;
        };
        AssignmentBody: {
            assignee: string | null;
            /** Format: date-time */
            dueAt: string | null;
        };
        AssignmentsBody: {
            assignee: string | null;
            /** Format: date-time */
            dueAt: string | null;
            holds: string[];
        };
        SubjectBody: {
            assembly?: string;
            serial?: string;
            refdes?: string;
            device?: string;
            /** @enum {string} */
            kind: "unit" | "site" | "device";
        };
        ConcessionBody: {
            subject: components["schemas"]["SubjectBody"];
            /** @enum {string} */
            limit: "unit-reflows" | "site-reworks" | "site-dressings" | "site-excursions" | "pad-copper-min" | "flatness-max" | "void-fraction-max" | "device-excursions" | "body-peak-max";
            allowed: number;
            customerReference: string;
            note: string;
            signature: components["schemas"]["SignatureBody"];
        };
        WithdrawConcessionBody: {
            note: string;
            signature: components["schemas"]["SignatureBody"];
        };
        AnnulledEventBody: {
            source: string;
            id: string;
        };
        AnnulmentBody: {
            event: components["schemas"]["AnnulledEventBody"];
            note: string;
            signature: components["schemas"]["SignatureBody"];
        };
        SuspectProfileBody: {
            name: string;
            revision?: string;
        };
        SuspectCauseBody: {
            station?: string;
            operator?: string;
            profile?: components["schemas"]["SuspectProfileBody"];
            device?: string;
            part?: string;
            lot?: string;
            solderAlloy?: string;
            limit?: string;
            /** Format: date-time */
            from: string;
            /** Format: date-time */
            to: string;
        };
        ContainmentBody: {
            cause: components["schemas"]["SuspectCauseBody"];
            dryRun?: boolean;
            holdCause?: boolean;
            note?: string;
            signature?: components["schemas"]["SignatureBody"];
        };
        RepeatContainmentBody: {
            note: string;
            signature: components["schemas"]["SignatureBody"];
        };
        RetentionBody: {
            keepYears?: number;
            contract: string;
            note?: string;
        };
        UnitBody: {
            assembly: string;
            serial: string;
        };
        LegalScopeBody: {
            customer?: string;
            assembly?: string;
            unit?: components["schemas"]["UnitBody"];
        };
        LegalHoldBody: {
            scope: components["schemas"]["LegalScopeBody"];
            reference: string;
            note: string;
            signature: components["schemas"]["SignatureBody"];
        };
        LiftBody: {
            note: string;
            signature: components["schemas"]["SignatureBody"];
        };
        Problem: {
            type: string;
            title: string;
            status: number;
            detail: string;
            instance?: string;
            errors?: {
                pointer: string;
                detail: string;
            }[];
        };
        SetupRevision: {
            name: string;
            revision: number;
            /** Format: date-time */
            at: string;
            by: string;
        };
        NewKey: {
            keyId: string;
            key: string;
        };
        LiveKey: {
            keyId: string;
            /** Format: date-time */
            issuedAt: string;
        };
        Acceptance: {
            accepted: number;
            duplicates: number;
            rejected: number;
            items: {
                id: string | null;
                /** @enum {string} */
                state: "accepted" | "duplicate" | "rejected";
                problem?: components["schemas"]["Problem"];
            }[];
        };
        EventStatus: {
            source: string;
            id: string;
            /** @enum {string} */
            state: "pending" | "applied" | "parked" | "annulled";
            subject: string;
            type: string;
            entries: {
                subject: string;
                seq: number;
                hash: string;
            }[];
            holds: components["schemas"]["Hold"][];
            request?: {
                id: string;
                traceparent: string | null;
            };
            reason?: {
                code: string;
                detail: string;
                remedy: string;
            };
        };
        ParkedEvent: {
            source: string;
            id: string;
            type: string;
            subject: string;
            reason: {
                code: string;
                detail: string;
                remedy: string;
            };
            /** Format: date-time */
            parkedAt: string;
        };
        Annulment: {
            entry: {
                subject: string;
                seq: number;
                hash: string;
            };
            /** Format: date-time */
            at: string;
            holds: components["schemas"]["Hold"][];
        };
        Retried: {
            retried: number;
        };
        HoldSummary: {
            open: number;
            oldestRaisedAt: string | null;
            byReason: {
                [key: string]: number;
            };
            byCustomer: {
                [key: string]: number;
            };
            byStation: {
                [key: string]: number;
            };
            byAssignee: {
                [key: string]: number;
            };
            byStage: {
                new: number;
                assigned: number;
                decided: number;
            };
            overdue: number;
            byAge: {
                underOneDay: number;
                oneToSevenDays: number;
                overSevenDays: number;
            };
        };
        Entry: {
            subject: string;
            seq: number;
            type: string;
            /** Format: date-time */
            time: string;
            /** Format: date-time */
            recordedAt: string;
            event: {
                source: string;
                id: string;
            } | null;
            actor: unknown;
            data: unknown;
            effects: unknown[];
            rules: number;
            prevHash: string;
            hash: string;
            signer?: {
                named: string;
                printedName: string;
                /** @constant */
                erased?: true;
            };
        };
        AccessRecord: {
            /** Format: date-time */
            at: string;
            /** @enum {string} */
            kind: "refused" | "signed-in" | "signed-out" | "key-issued" | "key-revoked" | "account-changed" | "setup-changed";
            caller: string | null;
            roles: ("station" | "operator" | "quality" | "approver" | "customer" | "auditor" | "admin")[];
            route: string | null;
            subject: string | null;
            outcome: string;
        };
        Live: {
            /** @constant */
            ok: true;
        };
        Readiness: {
            ok: boolean;
            checks: {
                [key: string]: "ok" | "failing";
            };
        };
        Archive: {
            id: string;
            /** @enum {string} */
            state: "waiting" | "running" | "done" | "failed" | "cancelled";
            wanted: number;
            done: number;
            missingCount: number;
            bytes: number;
            formats: string[];
            since: number[];
            manifestHash: string | null;
            by: string;
            customer: string | null;
            error: string | null;
            /** Format: date-time */
            createdAt: string;
            finishedAt: string | null;
            expiresAt: string | null;
        };
        ArchiveNow: components["schemas"]["Archive"] & {
            missing: {
                assembly: string;
                serial: string;
            }[];
        };
        Audit: {
            /** @constant */
            format: "heatbook-audit";
            /** @constant */
            version: 2;
            subject: string;
            assembly: string;
            serial: string;
            /** Format: date-time */
            exportedAt: string;
            audience: {
                /** @enum {string} */
                for: "house" | "customer";
                leftOut: string[];
            };
            unit: unknown;
            holds: unknown[];
            configuration: {
                kind: string;
                name: string;
                revision: number;
                version: number;
                body: unknown;
                by: string;
                /** Format: date-time */
                at: string;
            }[];
            traces: {
                name: string;
                contentHash: string;
                by: string;
                /** Format: date-time */
                at: string;
                bytes: number;
            }[];
            people: {
                commitment: string;
                name: string;
                printedName: string | null;
                salt: string | null;
            }[];
            entries: components["schemas"]["Entry"][];
            count: number;
            headHash: string;
            devices: {
                device: string;
                entries: components["schemas"]["Entry"][];
                count: number;
                headHash: string;
            }[];
            log: {
                origin: string;
                checkpoint: string;
                keys: {
                    vkey: string;
                    /** Format: date-time */
                    since: string;
                    endorsement: string | null;
                }[];
                inclusion: {
                    subject: string;
                    seq: number;
                    hash: string;
                    index: number;
                    path: string[];
                }[];
                consistency: {
                    from: number;
                    to: number;
                    path: string[];
                }[];
                censuses: {
                    entry: components["schemas"]["Entry"];
                    inclusion: {
                        subject: string;
                        seq: number;
                        hash: string;
                        index: number;
                        path: string[];
                    };
                    group: {
                        group: string;
                        ledgers: number;
                        entries: number;
                        root: string;
                    };
                    groupIndex: number;
                    groupPath: string[];
                    ledger: {
                        subject: string;
                        seq: number;
                        hash: string;
                    };
                    ledgerIndex: number;
                    ledgerPath: string[];
                }[];
                censusesLeftOut: number;
            } | null;
            seal: string;
            statement: string | null;
        };
        Reservation: {
            subject: components["schemas"]["Subject"];
            /** @enum {string} */
            limit: "device-excursions" | "site-reworks" | "site-dressings" | "site-excursions" | "unit-reflows";
            counted: number;
            possible: number;
        };
        PlanSpend: {
            subject: components["schemas"]["Subject"];
            /** @enum {string} */
            limit: "device-excursions" | "site-reworks" | "site-dressings" | "site-excursions" | "unit-reflows";
            used: number;
            reserved: number;
            asked: number;
            allowed: number | null;
        };
        PlanWarning: {
            code: string;
            subject: components["schemas"]["Subject"];
            detail: string;
            remedy: string;
        };
        Clearance: {
            id: string;
            /** @enum {string} */
            state: "granted" | "used" | "returned" | "lapsed";
            assembly?: string;
            serial?: string;
            device?: string;
            station: string;
            operator: string;
            grantedTo: string;
            /** Format: date-time */
            grantedAt: string;
            /** Format: date-time */
            expiresAt: string;
            returnedAt: string | null;
            returnedBy: string | null;
            steps: {
                plan: {
                    /** @enum {string} */
                    type: "heatbook.unit.reflowed.v1" | "heatbook.device.removed.v1" | "heatbook.site.dressed.v1" | "heatbook.device.placed.v1" | "heatbook.site.heated.v1" | "heatbook.device.deballed.v1" | "heatbook.device.reballed.v1";
                } & {
                    [key: string]: unknown;
                };
                device: string | null;
                reserves: components["schemas"]["Reservation"][];
                usedBy: {
                    source: string;
                    id: string;
                } | null;
            }[];
            spends: components["schemas"]["PlanSpend"][];
            warnings: components["schemas"]["PlanWarning"][];
        };
        ClearanceRefusal: {
            /** @constant */
            type: "urn:heatbook:problem:clearance-refused";
            title: string;
            /** @constant */
            status: 409;
            detail: string;
            instance?: string;
            reasons: {
                code: string;
                subject: unknown;
                limit?: string;
                used?: number;
                reserved?: number;
                asked?: number;
                allowed?: unknown;
                hold?: string;
                detail: string;
                remedy: string;
            }[];
            warnings: components["schemas"]["PlanWarning"][];
        };
        SuspectCause: {
            station?: string;
            operator?: string;
            profile?: {
                name: string;
                revision?: string;
            };
            device?: string;
            part?: string;
            lot?: string;
            solderAlloy?: string;
            limit?: string;
            /** Format: date-time */
            from: string;
            /** Format: date-time */
            to: string;
        };
        DryRun: {
            cause: components["schemas"]["SuspectCause"];
            units: number;
            devices: number;
            byCustomer: {
                [key: string]: number;
            };
            byState: {
                [key: string]: number;
            };
            firstAt: string | null;
            lastAt: string | null;
            items: {
                key: string;
                subject: components["schemas"]["Subject"];
                customer: string | null;
                /** @enum {string} */
                state: "expected" | "in-house" | "shipped" | "scrapped" | "loose";
                /** Format: date-time */
                firstAt: string;
                /** Format: date-time */
                lastAt: string;
                touches: number;
                entries: {
                    ledger: string;
                    seq: number;
                    type: string;
                    /** Format: date-time */
                    at: string;
                    event: {
                        source: string;
                        id: string;
                    };
                }[];
                through: string[];
                holds: {
                    id: string;
                    reason: string;
                    containment: string | null;
                }[];
            }[];
            nextCursor: string | null;
        };
        Containment: {
            id: string;
            cause: components["schemas"]["SuspectCause"];
            holdCause: boolean;
            causeHolds: string[];
            /** @enum {string} */
            state: "finding" | "holding" | "done" | "failed";
            progress: {
                found: number | null;
                held: number;
            };
            failure: string | null;
            rounds: {
                note: string;
                held: number | null;
                signed: unknown;
                signature: components["schemas"]["Signature"];
            }[];
            /** Format: date-time */
            requestedAt: string;
            finishedAt: string | null;
        };
        ContainmentNow: components["schemas"]["Containment"] & {
            missed: number | null;
        };
        Contained: {
            key: string;
            subject: components["schemas"]["Subject"];
            customer: string | null;
            /** @enum {string} */
            state: "expected" | "in-house" | "shipped" | "scrapped" | "loose";
            /** Format: date-time */
            firstAt: string;
            /** Format: date-time */
            lastAt: string;
            touches: number;
            entries: {
                ledger: string;
                seq: number;
                type: string;
                /** Format: date-time */
                at: string;
                event: {
                    source: string;
                    id: string;
                };
            }[];
            through: string[];
            hold: string;
            round: number;
        };
        FoundItem: {
            /** @enum {string} */
            kind: "unit" | "device" | "assembly" | "station" | "operator" | "profile" | "hold";
            name: string;
            assembly?: string;
            serial?: string;
            device?: string;
            customer?: string;
            state?: string;
            detail?: string;
        };
        Found: {
            items: components["schemas"]["FoundItem"][];
            truncated: boolean;
        };
        StationReport: {
            station: string;
            kind: string;
            calibrationDueAt: string | null;
            /** @enum {string} */
            calibration: "in-date" | "due-soon" | "overdue" | "unknown";
            lastHeardAt: string | null;
            lastEventTime: string | null;
            pending: number;
            oldestPendingAt: string | null;
            parked: number;
            openHolds: number;
        };
        StationUnit: {
            assembly: string;
            serial: string;
            customer: string;
            state: string;
            /** Format: date-time */
            firstAt: string;
            /** Format: date-time */
            lastAt: string;
            events: number;
        };
        Queue: {
            pending: number;
            oldestPendingAt: string | null;
            parked: number;
        };
        HoldSubject: components["schemas"]["Subject"] | {
            /** @constant */
            kind: "station";
            station: string;
        } | {
            /** @constant */
            kind: "operator";
            operator: string;
        } | {
            /** @constant */
            kind: "profile";
            name: string;
            revision: string;
        };
        Signature: {
            by: string;
            printedName: string;
            /** @constant */
            erased?: true;
            named?: string;
            /** Format: date-time */
            at: string;
            meaning: string;
            contentHash: string;
        };
        Disposition: {
            id: string;
            /** @enum {string} */
            decision: "use-as-is" | "rework" | "repair" | "scrap" | "return-to-customer";
            note: string;
            signature: components["schemas"]["Signature"];
            approved: boolean;
        };
        Hold: {
            id: string;
            /** @enum {string} */
            state: "open" | "released" | "withdrawn";
            /** @enum {string} */
            stage: "new" | "assigned" | "decided" | "closed";
            reason: string;
            subject: components["schemas"]["HoldSubject"];
            /** Format: date-time */
            raisedAt: string;
            cause: {
                source: string;
                id: string;
                time: string;
            } | {
                by: string;
                note: string;
            } | null;
            evidence: components["schemas"]["Evidence"];
            remedy: string;
            unit: {
                assembly: string;
                serial: string;
            } | null;
            customer: string | null;
            station: string | null;
            operator: string | null;
            raisedBy: string | null;
            decision: ("use-as-is" | "rework" | "repair" | "scrap" | "return-to-customer") | null;
            dispositions: components["schemas"]["Disposition"][];
            release: {
                by: string;
                /** Format: date-time */
                at: string;
                note: string;
                signature: components["schemas"]["Signature"] | null;
                approved: boolean;
                withoutCause: boolean;
                unsigned?: unknown;
            } | null;
            causeGone: boolean;
            containment: string | null;
            assignee?: string | null;
            dueAt?: string | null;
            overdue?: boolean;
            ageHours?: number | null;
            graveness?: number;
            decisions?: ("use-as-is" | "rework" | "repair" | "scrap" | "return-to-customer")[];
            actions?: {
                /** @enum {string} */
                action: "dispose" | "release" | "comment" | "assign";
                allowed: boolean;
                why: string | null;
            }[];
            version?: string;
        };
        DeskHold: {
            id: string;
            /** @enum {string} */
            state: "open" | "released" | "withdrawn";
            /** @enum {string} */
            stage: "new" | "assigned" | "decided" | "closed";
            reason: string;
            subject: components["schemas"]["HoldSubject"];
            /** Format: date-time */
            raisedAt: string;
            cause: {
                source: string;
                id: string;
                time: string;
            } | {
                by: string;
                note: string;
            } | null;
            evidence: components["schemas"]["Evidence"];
            remedy: string;
            unit: {
                assembly: string;
                serial: string;
            } | null;
            customer: string | null;
            station: string | null;
            operator: string | null;
            raisedBy: string | null;
            decision: ("use-as-is" | "rework" | "repair" | "scrap" | "return-to-customer") | null;
            dispositions: components["schemas"]["Disposition"][];
            release: {
                by: string;
                /** Format: date-time */
                at: string;
                note: string;
                signature: components["schemas"]["Signature"] | null;
                approved: boolean;
                withoutCause: boolean;
                unsigned?: unknown;
            } | null;
            causeGone: boolean;
            containment: string | null;
            assignee: string | null;
            dueAt: string | null;
            overdue: boolean;
            ageHours: number | null;
            graveness: number;
            decisions: ("use-as-is" | "rework" | "repair" | "scrap" | "return-to-customer")[];
            actions: {
                /** @enum {string} */
                action: "dispose" | "release" | "comment" | "assign";
                allowed: boolean;
                why: string | null;
            }[];
            version: string;
        };
        ExplainedHold: {
            id: string;
            /** @enum {string} */
            state: "open" | "released" | "withdrawn";
            /** @enum {string} */
            stage: "new" | "assigned" | "decided" | "closed";
            reason: string;
            subject: components["schemas"]["HoldSubject"];
            /** Format: date-time */
            raisedAt: string;
            cause: {
                source: string;
                id: string;
                time: string;
            } | {
                by: string;
                note: string;
            } | null;
            evidence: components["schemas"]["Evidence"];
            remedy: string;
            unit: {
                assembly: string;
                serial: string;
            } | null;
            customer: string | null;
            station: string | null;
            operator: string | null;
            raisedBy: string | null;
            decision: ("use-as-is" | "rework" | "repair" | "scrap" | "return-to-customer") | null;
            dispositions: components["schemas"]["Disposition"][];
            release: {
                by: string;
                /** Format: date-time */
                at: string;
                note: string;
                signature: components["schemas"]["Signature"] | null;
                approved: boolean;
                withoutCause: boolean;
                unsigned?: unknown;
            } | null;
            causeGone: boolean;
            containment: string | null;
            assignee?: string | null;
            dueAt?: string | null;
            overdue?: boolean;
            ageHours?: number | null;
            graveness?: number;
            decisions?: ("use-as-is" | "rework" | "repair" | "scrap" | "return-to-customer")[];
            actions?: {
                /** @enum {string} */
                action: "dispose" | "release" | "comment" | "assign";
                allowed: boolean;
                why: string | null;
            }[];
            version?: string;
            touched: boolean;
            causes: {
                source: string;
                id: string;
                time: string;
                entries: components["schemas"]["Entry"][];
            }[];
            rule: {
                name: string;
                revision: number;
                /** @enum {string} */
                kind: "device-excursions" | "site-reworks" | "site-dressings" | "site-excursions" | "unit-reflows" | "pad-copper-min" | "joint-lead-max" | "flatness-max" | "void-fraction-max" | "body-peak-max" | "profile-window" | "floor-life" | "qualified-operator" | "calibrated-station" | "method-allowed" | "clearance-required" | "guard-band";
                allowed: number | ("braid" | "vacuum" | "fountain" | "coupon")[] | {
                    pitchMm: number;
                    max: number;
                }[];
                unit: string;
                scope: {
                    [key: string]: string;
                };
                /** @enum {string} */
                action: "hold" | "warn";
                source: string;
                countPossible?: boolean;
                /** Format: date-time */
                effectiveFrom?: string;
            } | null;
            budgets: components["schemas"]["Budget"][];
            otherHolds: components["schemas"]["Hold"][];
            concessions: components["schemas"]["Concession"][];
            entries: components["schemas"]["Entry"][];
            comments?: {
                by: string;
                /** Format: date-time */
                at: string;
                text: string;
            }[];
        };
        Evidence: {
            summary: string;
            used?: number;
            allowed?: number | ("braid" | "vacuum" | "fountain" | "coupon")[] | {
                pitchMm: number;
                max: number;
            }[];
            unit?: string;
            limit?: {
                name: string;
                revision: number;
                source: string;
                concession?: string;
            };
            details?: string[];
        };
        Concession: {
            id: string;
            subject: components["schemas"]["Subject"];
            /** @enum {string} */
            limit: "device-excursions" | "site-reworks" | "site-dressings" | "site-excursions" | "unit-reflows" | "pad-copper-min" | "joint-lead-max" | "flatness-max" | "void-fraction-max" | "body-peak-max" | "profile-window" | "floor-life" | "qualified-operator" | "calibrated-station" | "method-allowed" | "clearance-required" | "guard-band";
            allowed: number;
            /** Format: date-time */
            from: string;
            customerReference: string;
            withdrawn: boolean;
            signedBy: string;
            withdrawal: {
                by: string;
                /** Format: date-time */
                at: string;
            } | null;
        };
        ExplainedConcession: {
            id: string;
            subject: components["schemas"]["Subject"];
            /** @enum {string} */
            limit: "device-excursions" | "site-reworks" | "site-dressings" | "site-excursions" | "unit-reflows" | "pad-copper-min" | "joint-lead-max" | "flatness-max" | "void-fraction-max" | "body-peak-max" | "profile-window" | "floor-life" | "qualified-operator" | "calibrated-station" | "method-allowed" | "clearance-required" | "guard-band";
            allowed: number;
            /** Format: date-time */
            from: string;
            customerReference: string;
            withdrawn: boolean;
            signedBy: string;
            withdrawal: {
                by: string;
                /** Format: date-time */
                at: string;
            } | null;
            entries: components["schemas"]["Entry"][];
        };
        Person: {
            name: string;
            printedName: string;
            /** @constant */
            erased?: true;
            roles: ("operator" | "quality" | "approver" | "customer" | "auditor" | "admin")[];
            customer?: string;
            disabled: boolean;
            revision: number;
            /** Format: date-time */
            createdAt: string;
            /** Format: date-time */
            changedAt: string;
        };
        PersonChange: {
            revision: number;
            /** @enum {string} */
            what: "created" | "revised" | "password-changed" | "erased";
            by: string;
            /** Format: date-time */
            at: string;
            account: {
                printedName: string;
                /** @constant */
                erased?: true;
                roles: ("operator" | "quality" | "approver" | "customer" | "auditor" | "admin")[];
                customer?: string;
                disabled: boolean;
            };
            act?: {
                note: string;
                signed: unknown;
                signature: components["schemas"]["Signature"];
            };
        };
        Erasure: {
            person: components["schemas"]["Person"];
            signedInClear: number;
        };
        Session: {
            name: string;
            printedName: string;
            roles: ("operator" | "quality" | "approver" | "customer" | "auditor" | "admin")[];
            customer?: string;
            csrfToken: string;
            /** Format: date-time */
            expiresAt: string;
        };
        LimitRecheck: {
            limit: string;
            revision: number;
            /** Format: date-time */
            effectiveAt: string;
            /** @enum {string} */
            state: "waiting" | "running" | "done" | "none";
            why: string | null;
            subjects: number;
            holdsRaised: number;
            holdsWithdrawn: number;
            holdsMarked: number;
            warnings: number;
            startedAt: string | null;
            finishedAt: string | null;
        };
        WhatIf: {
            limit: string;
            /** @enum {string} */
            kind: "device-excursions" | "site-reworks" | "site-dressings" | "site-excursions" | "unit-reflows" | "pad-copper-min" | "joint-lead-max" | "flatness-max" | "void-fraction-max" | "body-peak-max" | "profile-window" | "floor-life" | "qualified-operator" | "calibrated-station" | "method-allowed" | "clearance-required" | "guard-band";
            revision: number;
            /** Format: date-time */
            effectiveAt: string;
            assessed: boolean;
            why?: string;
            examined: {
                units: number;
                looseDevices: number;
            };
            newlyInBreach: {
                total: number;
                items: {
                    subject: components["schemas"]["Subject"];
                    unit: {
                        assembly: string;
                        serial: string;
                    } | null;
                    now: {
                        used: number | null;
                        allowed: unknown;
                        /** @enum {string} */
                        breach: "none" | "warn" | "hold";
                        limit: {
                            name: string;
                            revision: number;
                            source: string;
                            concession?: string;
                        } | null;
                    };
                    then: {
                        used: number | null;
                        allowed: unknown;
                        /** @enum {string} */
                        breach: "none" | "warn" | "hold";
                        limit: {
                            name: string;
                            revision: number;
                            source: string;
                            concession?: string;
                        } | null;
                    };
                    hold: string | null;
                }[];
            };
            noLongerInBreach: {
                total: number;
                items: {
                    subject: components["schemas"]["Subject"];
                    unit: {
                        assembly: string;
                        serial: string;
                    } | null;
                    now: {
                        used: number | null;
                        allowed: unknown;
                        /** @enum {string} */
                        breach: "none" | "warn" | "hold";
                        limit: {
                            name: string;
                            revision: number;
                            source: string;
                            concession?: string;
                        } | null;
                    };
                    then: {
                        used: number | null;
                        allowed: unknown;
                        /** @enum {string} */
                        breach: "none" | "warn" | "hold";
                        limit: {
                            name: string;
                            revision: number;
                            source: string;
                            concession?: string;
                        } | null;
                    };
                    hold: string | null;
                }[];
            };
        };
        LogKeys: {
            origin: string;
            keys: {
                vkey: string;
                /** Format: date-time */
                since: string;
                endorsement: string | null;
            }[];
        };
        ConsistencyProof: {
            from: number;
            to: number;
            path: string[];
        };
        SizedInclusionProof: {
            subject: string;
            seq: number;
            hash: string;
            index: number;
            size: number;
            path: string[];
        };
        LogLeaves: {
            items: {
                subject: string;
                seq: number;
                hash: string;
                index: number;
            }[];
            nextFrom: number | null;
        };
        Census: {
            /** Format: date */
            day: string;
            size: number;
            logRoot: string;
            groups: number;
            ledgers: number;
            entries: number;
            root: string;
            seq: number;
            /** Format: date-time */
            recordedAt: string;
            hash: string;
        };
        CensusGroup: {
            group: string;
            ledgers: number;
            entries: number;
            root: string;
        };
        CensusWithGroups: {
            /** Format: date */
            day: string;
            size: number;
            logRoot: string;
            groups: number;
            ledgers: number;
            entries: number;
            root: string;
            seq: number;
            /** Format: date-time */
            recordedAt: string;
            hash: string;
            groupList: components["schemas"]["CensusGroup"][];
        };
        Notice: {
            id: string;
            /** @enum {string} */
            kind: "calibration" | "qualification" | "moisture" | "hold-overdue";
            /** @enum {string} */
            level: "ahead" | "due";
            /** @enum {string} */
            state: "open" | "acknowledged" | "settled";
            subject: {
                /** @constant */
                kind: "unit";
                assembly: string;
                serial: string;
            } | {
                /** @constant */
                kind: "site";
                assembly: string;
                serial: string;
                refdes: string;
            } | {
                /** @constant */
                kind: "device";
                device: string;
            } | {
                /** @constant */
                kind: "station";
                station: string;
            } | {
                /** @constant */
                kind: "operator";
                operator: string;
            } | {
                /** @constant */
                kind: "profile";
                name: string;
                revision: string;
            };
            skill?: string;
            hold?: string;
            /** Format: date-time */
            dueAt: string;
            /** Format: date-time */
            raisedAt: string;
            detail: string;
            remedy: string;
            acknowledgedBy?: string;
            /** Format: date-time */
            acknowledgedAt?: string;
            note?: string;
            /** Format: date-time */
            settledAt?: string;
        };
        Classification: {
            classTemperature: {
                classC: number;
                volumeMm3: number;
                /** @enum {string} */
                table: "Pb-free" | "SnPb";
                row: string;
                /** @enum {string} */
                source: "declared" | "inferred";
                reference: string;
            };
            floorLife: {
                kind: string;
                lifeH?: number;
            };
            profile: {
                soakMinC: number;
                soakMaxC: number;
                soakMinS: number;
                soakMaxS: number;
                riseMaxCPerS: number;
                fallMaxCPerS: number;
                liquidusC: number;
                aboveLiquidusMinS: number;
                aboveLiquidusMaxS: number;
                nearClassS: number;
                from25ToPeakMaxS: number;
                passes: number;
                /** @enum {string} */
                use: "information";
                reference: string;
            };
        };
        PlanReason: {
            code: string;
            subject: {
                /** @enum {string} */
                kind: "site" | "device" | "neighbour" | "operator";
                name: string;
            };
            blocks: boolean;
            detail: string;
            remedy: string;
            asks?: {
                allowed: number | string;
                needed: number | string;
            };
        };
        PlanStep: {
            type: string;
            skill: string;
            refdes?: string;
            device?: string;
            /** @enum {string} */
            method?: "braid" | "vacuum" | "fountain" | "coupon";
            /** @enum {string} */
            fate?: "scrap" | "keep";
            profile?: {
                name: string;
                revision: string;
            };
            spends: {
                /** @enum {integer} */
                siteReworks: 0 | 1;
                /** @enum {integer} */
                siteDressings: 0 | 1;
                /** @enum {integer} */
                siteExcursions: 0 | 1;
                /** @enum {integer} */
                deviceExcursions: 0 | 1;
            };
            spreads: boolean;
            minutes: number;
            why: string;
        };
        PlanRow: {
            /** @enum {string} */
            method: "braid" | "vacuum" | "fountain" | "coupon";
            /** @enum {string} */
            deballing?: "braid" | "vacuum" | "fountain" | "coupon";
            fits: boolean;
            cheapest: boolean;
            excursions: {
                site: number;
                device: number;
                neighbours: {
                    refdes: string;
                    counted: number;
                    possible: number;
                    fits: boolean;
                }[];
            };
            copperLeftUm: number | null;
            copperCertainty: string;
            leadPct: number | null;
            passes: number;
            minutes: number;
            skill: string;
            qualifiedOperators: string[];
            missingSkills: string[];
            reasons: components["schemas"]["PlanReason"][];
            cautions: string[];
            facts: {
                text: string;
                source: string;
            }[];
            steps: components["schemas"]["PlanStep"][];
            why: string[];
            deballingOptions: {
                /** @enum {string} */
                method: "braid" | "vacuum" | "fountain" | "coupon";
                fits: boolean;
                deviceExcursions: number;
                minutes: number;
            }[];
        };
        DamageRates: {
            /** Format: date-time */
            from: string;
            /** Format: date-time */
            to: string;
            complete: boolean;
            houseRate: number | null;
            /** @enum {string} */
            houseRateFrom: "given" | "all rows";
            rates: {
                /** @enum {string} */
                by: "operator" | "method" | "station";
                name: string;
                sites: number;
                damaged: number;
                rate: number;
                interval: {
                    low: number;
                    high: number;
                };
                /** @enum {string} */
                verdict: "above" | "within" | "below" | "too-few";
                why: string;
            }[];
        };
        MethodPlan: {
            assembly: string;
            serial: string;
            refdes: string;
            /** @enum {string} */
            goal: "new-device" | "reuse-device";
            rows: components["schemas"]["PlanRow"][];
            cheapest: ("braid" | "vacuum" | "fountain" | "coupon") | null;
            why: string;
            concession?: {
                /** @enum {string} */
                method: "braid" | "vacuum" | "fountain" | "coupon";
                /** @enum {string} */
                deballing?: "braid" | "vacuum" | "fountain" | "coupon";
                needs: components["schemas"]["PlanReason"][];
            };
        };
        DueUnit: {
            assembly: string;
            serial: string;
            /** @enum {string} */
            state: "shipped" | "scrapped";
            customer: string;
            keepYears: number;
            /** Format: date-time */
            leftAt: string;
            /** Format: date-time */
            keptUntil: string;
        };
        LegalHold: {
            id: string;
            /** @enum {string} */
            state: "in-force" | "lifted";
            scope: {
                customer: string;
            } | {
                assembly: string;
            } | {
                unit: {
                    assembly: string;
                    serial: string;
                };
            };
            reference: string;
            note: string;
            signed: unknown;
            signature: components["schemas"]["Signature"];
            lift: {
                note: string;
                signed: unknown;
                signature: components["schemas"]["Signature"];
            } | null;
        };
        StreamMessage: {
            /** @constant */
            event: "hello";
            id: string;
            data: Record<string, never>;
        } | {
            /** @constant */
            event: "reset";
            id: string;
            data: Record<string, never>;
        } | {
            /** @constant */
            event: "entry";
            id?: string;
            data: components["schemas"]["StreamEntry"];
        } | {
            /** @constant */
            event: "hold";
            id?: string;
            data: components["schemas"]["StreamHold"];
        } | {
            /** @constant */
            event: "clearance";
            id?: string;
            data: components["schemas"]["StreamClearance"];
        };
        StreamEntry: {
            stream: string;
            subject: ({
                /** @constant */
                kind: "unit";
                assembly: string;
                serial: string;
            } | {
                /** @constant */
                kind: "device";
                device: string;
            } | {
                /** @constant */
                kind: "station";
                station: string;
            }) | null;
            seq: number;
            type: string;
            /** Format: date-time */
            time: string;
            /** Format: date-time */
            recordedAt: string;
        };
        StreamHold: {
            id: string;
            /** @enum {string} */
            state: "open" | "released" | "withdrawn";
            /** @enum {string} */
            stage: "new" | "assigned" | "decided" | "closed";
            reason: string;
            subject: components["schemas"]["HoldSubject"];
            unit: {
                assembly: string;
                serial: string;
            } | null;
            customer: string | null;
            station: string | null;
        };
        StreamClearance: {
            id: string;
            /** @enum {string} */
            state: "granted" | "used" | "returned" | "lapsed";
            assembly?: string;
            serial?: string;
            device?: string;
            station: string;
            /** Format: date-time */
            expiresAt: string;
        };
        Subject: {
            /** @constant */
            kind: "unit";
            assembly: string;
            serial: string;
        } | {
            /** @constant */
            kind: "site";
            assembly: string;
            serial: string;
            refdes: string;
        } | {
            /** @constant */
            kind: "device";
            device: string;
        };
        Count: {
            event: {
                source: string;
                id: string;
            };
            at: string;
            /** @enum {string} */
            basis: "measured" | "declared" | "inferred" | "assumed" | "unknown";
            why: string;
            unit?: string;
            refdes?: string;
            verdict?: unknown;
        };
        Budget: {
            subject: components["schemas"]["Subject"];
            /** @enum {string} */
            limit: "device-excursions" | "site-reworks" | "site-dressings" | "site-excursions" | "unit-reflows";
            used: number;
            possible: number;
            reserved: number;
            allowed: number | null;
            remaining: number | null;
            /** @enum {string} */
            basis: "measured" | "declared" | "inferred" | "assumed" | "unknown";
            inputs: {
                prior: {
                    count: number;
                    /** @enum {string} */
                    basis: "measured" | "declared" | "inferred" | "assumed" | "unknown";
                };
                measured: number;
                declared: number;
                inferred: number;
            };
            rule: {
                name: string;
                revision: number;
                source: string;
                /** @enum {string} */
                action: "hold" | "warn";
                countPossible: boolean;
                concession?: string;
            } | null;
        };
        Warning: {
            code: string;
            subject: components["schemas"]["Subject"];
            detail: string;
            remedy: string;
            count: number;
            firstAt: string;
            lastAt: string;
        };
        DeviceMoisture: {
            /** @enum {string} */
            state: "unknown" | "dry" | "running" | "paused" | "expired";
            usedShare: number;
            usedAtLeast: number;
            floorLifeH: number | null;
            remainingH: number | null;
            expiresAt: string | null;
            start: {
                /** @enum {string} */
                kind: "unknown" | "sealed" | "baked" | "dry-storage";
                at: string | null;
            };
            basis: {
                hours: number;
                columnC: number;
                columnPct: number;
                lifeH: number | null;
                share: number;
                /** @enum {string} */
                source: "declared" | "assumed";
                notes: string[];
                reference: string;
            }[];
            shortBakes: {
                sufficient: boolean;
                bakedH: number;
                neededH: number | null;
                why: string[];
                reference: string;
            }[];
            boardDry: boolean;
            why: string;
            remedy: string | null;
        };
        UnitMoisture: {
            /** @enum {string} */
            state: "unknown" | "dry" | "running" | "paused" | "expired";
            governing: {
                device: string;
                clock: components["schemas"]["DeviceMoisture"];
            } | null;
            remainingH: number | null;
            expiresAt: string | null;
            unknown: string[];
            expired: string[];
            boardDry: boolean;
            why: string;
            remedy: string | null;
        };
        Site: {
            refdes: string;
            device: string | null;
            disputed: boolean;
            part: string | null;
            side: ("top" | "bottom") | null;
            /** @enum {string} */
            condition: "fitted" | "bare" | "dressed" | "to-dress" | "to-clean" | "damaged" | "to-rework";
            alloys: string[];
            passes: number;
            remnant: {
                alloy: string;
                filmUm: number | null;
            };
            lead: {
                estimate: {
                    /** @enum {string} */
                    kind: "estimate";
                    leadPct: number;
                    leadMg: number;
                    jointMg: number;
                    parts: {
                        name: string;
                        alloy: string;
                        massMg: number;
                        leadFraction: number;
                        leadMg: number;
                    }[];
                    /** @enum {string} */
                    basis: "inferred" | "assumed";
                    why: string[];
                    source: string;
                } | null;
                measuredPct: number | null;
            };
            copper: {
                leftUm: number | null;
                startUm: number;
                lostUm: number;
                /** @enum {string} */
                certainty: "estimate" | "at-most" | "not-modelled";
                /** @enum {string} */
                basis: "assumed" | "measured";
                rows: {
                    what: string;
                    lostUm: number | null;
                    leftUm: number;
                    /** @enum {string} */
                    basis: "assumed" | "measured";
                    why: string[];
                    source: string;
                }[];
                stops?: {
                    reason: string;
                    detail: string;
                };
                source: string;
            } | null;
            inspected: {
                [key: string]: "pass" | "fail";
            };
        };
        UnitRow: {
            assembly: string;
            serial: string;
            customer: string;
            state: string;
            openHolds: number;
            /** Format: date-time */
            changedAt: string;
        };
        Unit: {
            assembly: string;
            serial: string;
            customer: string | null;
            /** @enum {string} */
            state: "expected" | "in-house" | "shipped" | "scrapped";
            workOrder: string | null;
            complaint: string | null;
            received: boolean;
            headHash: string;
            changedAt: string | null;
            sites: components["schemas"]["Site"][];
            budgets: components["schemas"]["Budget"][];
            holds: components["schemas"]["Hold"][];
            warnings: components["schemas"]["Warning"][];
            moisture: components["schemas"]["UnitMoisture"];
            view?: {
                /** @constant */
                for: "customer";
                leftOut: string[];
            };
        };
        Device: {
            device: string;
            part: string | null;
            /** @enum {string} */
            status: "loose" | "mounted" | "scrapped" | "renamed";
            knownAs: string | null;
            place: {
                assembly: string;
                serial: string;
                refdes: string;
            } | null;
            lot: string | null;
            dateCode: string | null;
            owner: string | null;
            balls: {
                /** @enum {string} */
                state: "as-made" | "none" | "reballed";
                alloy?: string;
            };
            budgets: components["schemas"]["Budget"][];
            holds: components["schemas"]["Hold"][];
            warnings: components["schemas"]["Warning"][];
            moisture: components["schemas"]["DeviceMoisture"];
            looseBake: {
                usedH: number;
                allowedH: number;
                remainingH: number;
                exceeded: boolean;
                reference: string;
            };
            unitsSeen: string[];
            headHash: string;
            counted: components["schemas"]["Count"][];
            possible: components["schemas"]["Count"][];
        };
        KeptTrace: {
            name: string;
            contentHash: string;
            rows: number;
            channels: string[];
            /** @enum {string} */
            unit: "C" | "mV";
            notes: string[];
        };
        TraceCurve: {
            trace: string;
            liquidusC: number | null;
            seconds: number[];
            channels: {
                name: string;
                /** @enum {string} */
                state: "ok" | "open" | "stuck" | "suspect";
                peakC: number | null;
                atC: (number | null)[];
            }[];
            above: {
                channel: string;
                fromS: number;
                toS: number;
            }[];
            samples: number;
            kept: number;
        };
        TraceAnalysis: {
            trace: string;
            contentHash: string;
            channels: ({
                name: string;
                why: string;
                samples: {
                    count: number;
                    used: number;
                    dropped: {
                        missing: number;
                        open: number;
                        outOfRange: number;
                        spikes: number;
                    };
                    gaps: {
                        fromS: number;
                        toS: number;
                        bridged: boolean;
                    }[];
                    gapSeconds: number;
                };
                /** @constant */
                state: "open";
            } | {
                name: string;
                why: string;
                samples: {
                    count: number;
                    used: number;
                    dropped: {
                        missing: number;
                        open: number;
                        outOfRange: number;
                        spikes: number;
                    };
                    gaps: {
                        fromS: number;
                        toS: number;
                        bridged: boolean;
                    }[];
                    gapSeconds: number;
                };
                /** @enum {string} */
                state: "ok" | "stuck" | "suspect";
                peakC: number;
                peakAtS: number;
                secondsAboveLiquidus: number;
                excursions: {
                    fromS: number;
                    toS: number;
                    seconds: number;
                }[];
                secondsUnseen: number;
                secondsWithin5OfPeak: number;
                soakSeconds?: number;
                maxRiseCPerS?: number;
                maxRise?: {
                    cPerS: number;
                    fromS: number;
                    toS: number;
                    samples: number;
                };
                maxFallCPerS?: number;
                maxFall?: {
                    cPerS: number;
                    fromS: number;
                    toS: number;
                    samples: number;
                };
                secondsFrom25ToPeak?: number;
                /** @enum {string} */
                from25Basis?: "crossing" | "first-reading";
                over: {
                    fromS: number;
                    toS: number;
                };
            })[];
            spreadC?: number;
            spread?: {
                hottest: string;
                coolest: string;
                over: string[];
            };
            rules: {
                liquidusC: number;
                soakFromC?: number;
                soakToC?: number;
                rampWindowS: number;
                maxGapS: number;
                intervalS: number;
                plausibleFromC: number;
                plausibleToC: number;
                fullScaleC: number[];
                spikeCPerS: number;
                spikeFloorC: number;
                spikeMaxS: number;
                movingC: number;
                stuckC: number;
                droppedShare: number;
                openShare: number;
                dipS: number;
                dipC: number;
            };
            notes: string[];
        };
        /** heatbook.unit.received.v1 */
        "heatbook.unit.received.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.unit.received.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data?: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
                workOrder?: string;
                complaint?: string;
                priorReflows?: number;
                devices?: {
                    refdes: string;
                    device?: string;
                    priorExcursions?: number;
                }[];
                sites?: {
                    refdes: string;
                    priorReworks?: number;
                }[];
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** heatbook.unit.baked.v1 */
        "heatbook.unit.baked.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.unit.baked.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
                temperatureC: number;
                relativeHumidityPct?: number;
                /** Format: date-time */
                startedAt: string;
                /** Format: date-time */
                endedAt: string;
                interruptedMinutes?: number;
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** heatbook.unit.reflowed.v1 */
        "heatbook.unit.reflowed.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.unit.reflowed.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
                /** @enum {string} */
                side?: "top" | "bottom";
                profile: {
                    name: string;
                    revision: string;
                };
                heat: {
                    /** Format: date-time */
                    startedAt: string;
                    /** Format: date-time */
                    endedAt: string;
                    thermocouples: {
                        id: string;
                        refdes?: string;
                        /** @enum {string} */
                        position: "joint" | "body" | "die" | "board" | "air";
                        peakC: number;
                        secondsAboveLiquidus?: number;
                        liquidusC?: number;
                        maxRiseCPerS?: number;
                        maxFallCPerS?: number;
                        uncertaintyC?: number;
                    }[];
                    trace?: string;
                };
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** heatbook.unit.shipped.v1 */
        "heatbook.unit.shipped.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.unit.shipped.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data?: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** heatbook.unit.scrapped.v1 */
        "heatbook.unit.scrapped.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.unit.scrapped.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data?: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** heatbook.device.received.v1 */
        "heatbook.device.received.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.device.received.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
                part: string;
                lot?: string;
                dateCode?: string;
                owner?: string;
                priorExcursions?: number;
                /** Format: date-time */
                packSealedAt?: string;
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** heatbook.device.baked.v1 */
        "heatbook.device.baked.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.device.baked.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
                temperatureC: number;
                relativeHumidityPct?: number;
                /** Format: date-time */
                startedAt: string;
                /** Format: date-time */
                endedAt: string;
                interruptedMinutes?: number;
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** heatbook.device.removed.v1 */
        "heatbook.device.removed.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.device.removed.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
                refdes: string;
                device?: string;
                /** @enum {string} */
                fate: "scrap" | "keep";
                profile: {
                    name: string;
                    revision: string;
                };
                heat: {
                    /** Format: date-time */
                    startedAt: string;
                    /** Format: date-time */
                    endedAt: string;
                    thermocouples: {
                        id: string;
                        refdes?: string;
                        /** @enum {string} */
                        position: "joint" | "body" | "die" | "board" | "air";
                        peakC: number;
                        secondsAboveLiquidus?: number;
                        liquidusC?: number;
                        maxRiseCPerS?: number;
                        maxFallCPerS?: number;
                        uncertaintyC?: number;
                    }[];
                    trace?: string;
                };
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** heatbook.device.deballed.v1 */
        "heatbook.device.deballed.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.device.deballed.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
                /** @enum {string} */
                method: "braid" | "vacuum" | "fountain" | "coupon";
                solderAlloy?: string;
                contactSeconds?: number;
                solderC?: number;
                heat?: {
                    /** Format: date-time */
                    startedAt: string;
                    /** Format: date-time */
                    endedAt: string;
                    thermocouples: {
                        id: string;
                        refdes?: string;
                        /** @enum {string} */
                        position: "joint" | "body" | "die" | "board" | "air";
                        peakC: number;
                        secondsAboveLiquidus?: number;
                        liquidusC?: number;
                        maxRiseCPerS?: number;
                        maxFallCPerS?: number;
                        uncertaintyC?: number;
                    }[];
                    trace?: string;
                };
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** heatbook.device.reballed.v1 */
        "heatbook.device.reballed.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.device.reballed.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
                ballAlloy: string;
                ballDiameterMm: number;
                heat?: {
                    /** Format: date-time */
                    startedAt: string;
                    /** Format: date-time */
                    endedAt: string;
                    thermocouples: {
                        id: string;
                        refdes?: string;
                        /** @enum {string} */
                        position: "joint" | "body" | "die" | "board" | "air";
                        peakC: number;
                        secondsAboveLiquidus?: number;
                        liquidusC?: number;
                        maxRiseCPerS?: number;
                        maxFallCPerS?: number;
                        uncertaintyC?: number;
                    }[];
                    trace?: string;
                };
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** heatbook.device.placed.v1 */
        "heatbook.device.placed.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.device.placed.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
                refdes: string;
                device: string;
                part?: string;
                /** @enum {string} */
                attach: "flux" | "paste";
                pasteAlloy?: string;
                pasteVolumeMm3?: number;
                profile: {
                    name: string;
                    revision: string;
                };
                heat: {
                    /** Format: date-time */
                    startedAt: string;
                    /** Format: date-time */
                    endedAt: string;
                    thermocouples: {
                        id: string;
                        refdes?: string;
                        /** @enum {string} */
                        position: "joint" | "body" | "die" | "board" | "air";
                        peakC: number;
                        secondsAboveLiquidus?: number;
                        liquidusC?: number;
                        maxRiseCPerS?: number;
                        maxFallCPerS?: number;
                        uncertaintyC?: number;
                    }[];
                    trace?: string;
                };
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** heatbook.device.scrapped.v1 */
        "heatbook.device.scrapped.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.device.scrapped.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data?: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** heatbook.exposure.started.v1 */
        "heatbook.exposure.started.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.exposure.started.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
                ambientC?: number;
                relativeHumidityPct?: number;
                /** @enum {string} */
                storage: "open" | "dry-cabinet" | "dry-pack";
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** heatbook.exposure.stopped.v1 */
        "heatbook.exposure.stopped.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.exposure.stopped.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
                ambientC?: number;
                relativeHumidityPct?: number;
                /** @enum {string} */
                storage: "open" | "dry-cabinet" | "dry-pack";
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** heatbook.site.dressed.v1 */
        "heatbook.site.dressed.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.site.dressed.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
                refdes: string;
                /** @enum {string} */
                method: "braid" | "vacuum" | "fountain" | "coupon";
                solderAlloy: string;
                passes: number;
                contactSeconds: number;
                solderC?: number;
                flowing?: boolean;
                flux?: string;
                remnantHeightUm?: number;
                nozzleSpeedMmPerS?: number;
                profile?: {
                    name: string;
                    revision: string;
                };
                heat?: {
                    /** Format: date-time */
                    startedAt: string;
                    /** Format: date-time */
                    endedAt: string;
                    thermocouples: {
                        id: string;
                        refdes?: string;
                        /** @enum {string} */
                        position: "joint" | "body" | "die" | "board" | "air";
                        peakC: number;
                        secondsAboveLiquidus?: number;
                        liquidusC?: number;
                        maxRiseCPerS?: number;
                        maxFallCPerS?: number;
                        uncertaintyC?: number;
                    }[];
                    trace?: string;
                };
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** heatbook.site.heated.v1 */
        "heatbook.site.heated.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.site.heated.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
                refdes: string;
                /** @enum {string} */
                purpose: "touch-up" | "removal-attempt" | "aborted" | "other";
                profile?: {
                    name: string;
                    revision: string;
                };
                heat: {
                    /** Format: date-time */
                    startedAt: string;
                    /** Format: date-time */
                    endedAt: string;
                    thermocouples: {
                        id: string;
                        refdes?: string;
                        /** @enum {string} */
                        position: "joint" | "body" | "die" | "board" | "air";
                        peakC: number;
                        secondsAboveLiquidus?: number;
                        liquidusC?: number;
                        maxRiseCPerS?: number;
                        maxFallCPerS?: number;
                        uncertaintyC?: number;
                    }[];
                    trace?: string;
                };
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** heatbook.site.cleaned.v1 */
        "heatbook.site.cleaned.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.site.cleaned.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
                refdes: string;
                agent: string;
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** heatbook.site.repaired.v1 */
        "heatbook.site.repaired.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.site.repaired.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
                refdes: string;
                procedure: string;
                pads: string[];
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** heatbook.inspection.recorded.v1 */
        "heatbook.inspection.recorded.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.inspection.recorded.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
                target: {
                    /** @enum {string} */
                    kind: "site" | "device" | "unit";
                    refdes?: string;
                    device?: string;
                };
                /** @enum {string} */
                technique: "visual" | "xray" | "height-map" | "xrf" | "ionic" | "electrical";
                /** @enum {string} */
                result: "pass" | "fail";
                defects?: {
                    /** @enum {string} */
                    code: "lifted-pad" | "missing-pad" | "scratched-mask" | "thin-pad" | "residual-solder" | "bridge" | "open" | "head-in-pillow" | "void" | "misaligned" | "contamination";
                    pads?: string[];
                }[];
                heightsUm?: {
                    xMm: number;
                    yMm: number;
                    zUm: number;
                }[];
                voids?: {
                    joint: string;
                    fraction: number;
                }[];
                leadPct?: number;
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** heatbook.bath.analysed.v1 */
        "heatbook.bath.analysed.v1": {
            /** @constant */
            specversion: "1.0";
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            type: "heatbook.bath.analysed.v1";
            source: string;
            id: string;
            subject: string;
            /** Format: date-time */
            time: string;
            /** @constant */
            datacontenttype?: "application/json";
            /** Format: uri */
            dataschema?: string;
            data: {
                operator?: string;
                clearance?: string;
                note?: string;
                lots?: {
                    flux?: string;
                    solder?: string;
                    paste?: string;
                    balls?: string;
                };
                attachments?: string[];
                solderAlloy: string;
                leadPct: number;
                copperPct: number;
                /** Format: date-time */
                sampledAt: string;
            };
        } & {
            [key: string]: string | number | boolean;
        };
        /** Station event */
        StationEvent: components["schemas"]["heatbook.unit.received.v1"] | components["schemas"]["heatbook.unit.baked.v1"] | components["schemas"]["heatbook.unit.reflowed.v1"] | components["schemas"]["heatbook.unit.shipped.v1"] | components["schemas"]["heatbook.unit.scrapped.v1"] | components["schemas"]["heatbook.device.received.v1"] | components["schemas"]["heatbook.device.baked.v1"] | components["schemas"]["heatbook.device.removed.v1"] | components["schemas"]["heatbook.device.deballed.v1"] | components["schemas"]["heatbook.device.reballed.v1"] | components["schemas"]["heatbook.device.placed.v1"] | components["schemas"]["heatbook.device.scrapped.v1"] | components["schemas"]["heatbook.exposure.started.v1"] | components["schemas"]["heatbook.exposure.stopped.v1"] | components["schemas"]["heatbook.site.dressed.v1"] | components["schemas"]["heatbook.site.heated.v1"] | components["schemas"]["heatbook.site.cleaned.v1"] | components["schemas"]["heatbook.site.repaired.v1"] | components["schemas"]["heatbook.inspection.recorded.v1"] | components["schemas"]["heatbook.bath.analysed.v1"];
    };
    responses: never;
    parameters: never;
    requestBodies: never;
    headers: never;
    pathItems: never;
}
export type $defs = Record<string, never>;
export interface operations {
    getAssembly: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                assembly: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["AssemblyBody"];
                };
            };
        };
    };
    putAssembly: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                assembly: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["AssemblyBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["AssemblyBody"];
                };
            };
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["AssemblyBody"];
                };
            };
        };
    };
    listAssemblies: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: (components["schemas"]["SetupRevision"] & components["schemas"]["AssemblyBody"])[];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    listAssemblyRevisions: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path: {
                assembly: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: (components["schemas"]["SetupRevision"] & components["schemas"]["AssemblyBody"])[];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    getPart: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                part: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["PartBody"];
                };
            };
        };
    };
    putPart: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                part: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["PartBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["PartBody"];
                };
            };
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["PartBody"];
                };
            };
        };
    };
    listParts: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: (components["schemas"]["SetupRevision"] & components["schemas"]["PartBody"])[];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    classifyPart: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                part: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Classification"];
                };
            };
        };
    };
    listPartRevisions: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path: {
                part: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: (components["schemas"]["SetupRevision"] & components["schemas"]["PartBody"])[];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    getStation: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                station: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["StationBody"];
                };
            };
        };
    };
    putStation: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                station: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["StationBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["StationBody"];
                };
            };
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["StationBody"];
                };
            };
        };
    };
    listStations: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: (components["schemas"]["SetupRevision"] & components["schemas"]["StationBody"])[];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    listStationRevisions: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path: {
                station: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: (components["schemas"]["SetupRevision"] & components["schemas"]["StationBody"])[];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    listStationKeys: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                station: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["LiveKey"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    issueStationKey: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                station: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["NewKey"];
                };
            };
        };
    };
    revokeStationKey: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                station: string;
                keyId: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            204: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
        };
    };
    listPeople: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Person"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    addPerson: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["NewPersonBody"];
            };
        };
        responses: {
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Person"];
                };
            };
        };
    };
    getPerson: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                name: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Person"];
                };
            };
        };
    };
    revisePerson: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                name: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["PersonBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Person"];
                };
            };
        };
    };
    listPersonChanges: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path: {
                name: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["PersonChange"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    setPersonPassword: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                name: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["NewPasswordBody"];
            };
        };
        responses: {
            204: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
        };
    };
    erasePerson: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                name: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ErasureBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Erasure"];
                };
            };
        };
    };
    getSession: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Session"];
                };
            };
        };
    };
    signIn: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["SignInBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Session"];
                };
            };
        };
    };
    signOut: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            204: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
        };
    };
    getOperator: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                operator: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["OperatorBody"];
                };
            };
        };
    };
    putOperator: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                operator: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["OperatorBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["OperatorBody"];
                };
            };
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["OperatorBody"];
                };
            };
        };
    };
    listOperators: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: (components["schemas"]["SetupRevision"] & components["schemas"]["OperatorBody"])[];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    listOperatorRevisions: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path: {
                operator: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: (components["schemas"]["SetupRevision"] & components["schemas"]["OperatorBody"])[];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    getProfile: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                profile: string;
                revision: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["ProfileBody"];
                };
            };
        };
    };
    putProfile: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                profile: string;
                revision: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ProfileBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["ProfileBody"];
                };
            };
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["ProfileBody"];
                };
            };
        };
    };
    listProfiles: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: (components["schemas"]["SetupRevision"] & components["schemas"]["ProfileBody"])[];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    listProfileRevisions: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path: {
                profile: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: (components["schemas"]["SetupRevision"] & components["schemas"]["ProfileBody"])[];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    listProfileHistory: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path: {
                profile: string;
                revision: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: (components["schemas"]["SetupRevision"] & components["schemas"]["ProfileBody"])[];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    getLimit: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                limit: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["LimitBody"] & {
                        recheck: components["schemas"]["LimitRecheck"];
                    };
                };
            };
        };
    };
    putLimit: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                limit: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["LimitBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["LimitBody"] & {
                        recheck: components["schemas"]["LimitRecheck"];
                    };
                };
            };
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["LimitBody"] & {
                        recheck: components["schemas"]["LimitRecheck"];
                    };
                };
            };
        };
    };
    whatIfLimit: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                limit: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["LimitBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["WhatIf"];
                };
            };
        };
    };
    listLimits: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: (components["schemas"]["SetupRevision"] & components["schemas"]["LimitBody"] & {
                            recheck: components["schemas"]["LimitRecheck"];
                        })[];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    listLimitRevisions: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path: {
                limit: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: (components["schemas"]["SetupRevision"] & components["schemas"]["LimitBody"] & {
                            recheck: components["schemas"]["LimitRecheck"];
                        })[];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    listLimitRechecks: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path: {
                limit: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["LimitRecheck"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    getCopperRate: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                alloy: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["CopperRateBody"];
                };
            };
        };
    };
    putCopperRate: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                alloy: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["CopperRateBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["CopperRateBody"];
                };
            };
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["CopperRateBody"];
                };
            };
        };
    };
    listCopperRates: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: (components["schemas"]["SetupRevision"] & components["schemas"]["CopperRateBody"])[];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    listCopperRateRevisions: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path: {
                alloy: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: (components["schemas"]["SetupRevision"] & components["schemas"]["CopperRateBody"])[];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    planDressing: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["MethodPlanBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["MethodPlan"];
                };
            };
        };
    };
    listDamageRates: {
        parameters: {
            query?: {
                from?: string;
                to?: string;
                houseRate?: number;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["DamageRates"];
                };
            };
        };
    };
    getEvent: {
        parameters: {
            query: {
                source: string;
                id: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["EventStatus"];
                };
            };
        };
    };
    postEvents: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/cloudevents+json": components["schemas"]["StationEvent"];
                "application/cloudevents-batch+json": components["schemas"]["StationEvent"][];
                "application/x-ndjson": string;
                "application/json": components["schemas"]["StationEvent"] | components["schemas"]["StationEvent"][];
            };
        };
        responses: {
            202: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Acceptance"];
                };
            };
        };
    };
    listParkedEvents: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["ParkedEvent"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    retryParkedEvents: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["RetryBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Retried"];
                };
            };
        };
    };
    getQueue: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Queue"];
                };
            };
        };
    };
    listStationReports: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["StationReport"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    getStationReport: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                station: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["StationReport"];
                };
            };
        };
    };
    listStationUnits: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
                from?: string;
                to?: string;
            };
            header?: never;
            path: {
                station: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["StationUnit"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    listUnits: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
                customer?: string;
                assembly?: string;
                serial?: string;
                state?: "expected" | "in-house" | "shipped" | "scrapped";
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["UnitRow"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    getUnit: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                assembly: string;
                serial: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Unit"];
                };
            };
        };
    };
    getUnitLedger: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
                order?: "asc" | "desc";
                type?: string;
                from?: number;
            };
            header?: never;
            path: {
                assembly: string;
                serial: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Entry"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    exportUnitAudit: {
        parameters: {
            query?: {
                format?: string;
                since?: number[];
            };
            header?: never;
            path: {
                assembly: string;
                serial: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Audit"];
                    "text/csv": string;
                    "application/pdf": string;
                    "application/ld+json": Record<string, never>;
                };
            };
        };
    };
    listArchives: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Archive"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    askForArchive: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ArchiveBody"];
            };
        };
        responses: {
            202: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Archive"];
                };
            };
        };
    };
    getArchive: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ArchiveNow"];
                };
            };
        };
    };
    deleteArchive: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            204: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
        };
    };
    downloadArchive: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/zip": string;
                };
            };
            206: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
        };
    };
    getDevice: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                device: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Device"];
                };
            };
        };
    };
    getDeviceLedger: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
                order?: "asc" | "desc";
                type?: string;
                from?: number;
            };
            header?: never;
            path: {
                device: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Entry"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    search: {
        parameters: {
            query: {
                q: string;
                limit?: number;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Found"];
                };
            };
        };
    };
    listClearances: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
                assembly?: string;
                serial?: string;
                device?: string;
                state?: "granted" | "used" | "returned" | "lapsed";
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Clearance"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    requestClearance: {
        parameters: {
            query?: never;
            header?: {
                "Idempotency-Key"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ClearanceBody"];
            };
        };
        responses: {
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Clearance"];
                };
            };
        };
    };
    getClearance: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Clearance"];
                };
            };
        };
    };
    returnClearance: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            204: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": unknown;
                };
            };
        };
    };
    listHolds: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
                state?: "open" | "released" | "withdrawn";
                stage?: "new" | "assigned" | "decided" | "closed";
                reason?: "device-excursions" | "site-reworks" | "site-dressings" | "site-excursions" | "unit-reflows" | "pad-copper-min" | "joint-lead-max" | "flatness-max" | "void-fraction-max" | "body-peak-max" | "profile-window" | "floor-life" | "qualified-operator" | "calibrated-station" | "method-allowed" | "clearance-required" | "guard-band" | "event-parked" | "sequence-broken" | "identity-conflict" | "summary-mismatch" | "damage-found" | "late-event" | "shipped-open" | "by-hand";
                subjectKind?: "unit" | "site" | "device" | "station" | "operator" | "profile";
                customer?: string;
                assembly?: string;
                serial?: string;
                device?: string;
                station?: string;
                operator?: string;
                assignee?: string;
                overdue?: "true";
                containment?: string;
                raisedFrom?: string;
                raisedTo?: string;
                order?: "age" | "graveness";
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Hold"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    raiseHold: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["RaiseHoldBody"];
            };
        };
        responses: {
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["DeskHold"];
                };
            };
        };
    };
    summariseHolds: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
                state?: "open" | "released" | "withdrawn";
                stage?: "new" | "assigned" | "decided" | "closed";
                reason?: "device-excursions" | "site-reworks" | "site-dressings" | "site-excursions" | "unit-reflows" | "pad-copper-min" | "joint-lead-max" | "flatness-max" | "void-fraction-max" | "body-peak-max" | "profile-window" | "floor-life" | "qualified-operator" | "calibrated-station" | "method-allowed" | "clearance-required" | "guard-band" | "event-parked" | "sequence-broken" | "identity-conflict" | "summary-mismatch" | "damage-found" | "late-event" | "shipped-open" | "by-hand";
                subjectKind?: "unit" | "site" | "device" | "station" | "operator" | "profile";
                customer?: string;
                assembly?: string;
                serial?: string;
                device?: string;
                station?: string;
                operator?: string;
                assignee?: string;
                overdue?: "true";
                containment?: string;
                raisedFrom?: string;
                raisedTo?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["HoldSummary"];
                };
            };
        };
    };
    getHold: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ExplainedHold"];
                };
            };
        };
    };
    listNotices: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
                kind?: "calibration" | "qualification" | "moisture" | "hold-overdue";
                level?: "ahead" | "due";
                state?: "open" | "acknowledged" | "settled";
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Notice"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    acknowledgeNotice: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["AcknowledgeNoticeBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Notice"];
                };
            };
        };
    };
    disposeHold: {
        parameters: {
            query?: never;
            header?: {
                "If-Match"?: string;
            };
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["DisposeHoldBody"];
            };
        };
        responses: {
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["DeskHold"];
                };
            };
        };
    };
    releaseHold: {
        parameters: {
            query?: never;
            header?: {
                "If-Match"?: string;
            };
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ReleaseHoldBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["DeskHold"];
                };
            };
        };
    };
    commentHold: {
        parameters: {
            query?: never;
            header?: {
                "If-Match"?: string;
            };
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["CommentBody"];
            };
        };
        responses: {
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["DeskHold"];
                };
            };
        };
    };
    assignHold: {
        parameters: {
            query?: never;
            header?: {
                "If-Match"?: string;
            };
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["AssignmentBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["DeskHold"];
                };
            };
        };
    };
    assignHolds: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["AssignmentsBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["DeskHold"][];
                    };
                };
            };
        };
    };
    listConcessions: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
                assembly?: string;
                serial?: string;
                refdes?: string;
                device?: string;
                kind?: "unit-reflows" | "site-reworks" | "site-dressings" | "site-excursions" | "pad-copper-min" | "flatness-max" | "void-fraction-max" | "device-excursions" | "body-peak-max";
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Concession"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    signConcession: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ConcessionBody"];
            };
        };
        responses: {
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Concession"];
                };
            };
        };
    };
    getConcession: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ExplainedConcession"];
                };
            };
        };
    };
    withdrawConcession: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["WithdrawConcessionBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Concession"];
                };
            };
        };
    };
    annulEvent: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["AnnulmentBody"];
            };
        };
        responses: {
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Annulment"];
                };
            };
        };
    };
    listContainments: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Containment"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    contain: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ContainmentBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["DryRun"];
                };
            };
            202: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Containment"];
                };
            };
        };
    };
    getContainment: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ContainmentNow"];
                };
            };
        };
    };
    listContained: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Contained"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    repeatContainment: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["RepeatContainmentBody"];
            };
        };
        responses: {
            202: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Containment"];
                };
            };
        };
    };
    getRetention: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                customer: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["RetentionBody"];
                };
            };
        };
    };
    putRetention: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                customer: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["RetentionBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["RetentionBody"];
                };
            };
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SetupRevision"] & components["schemas"]["RetentionBody"];
                };
            };
        };
    };
    listRetentions: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: (components["schemas"]["SetupRevision"] & components["schemas"]["RetentionBody"])[];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    listDue: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
                customer?: string;
                before?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["DueUnit"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    listRetentionRevisions: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path: {
                customer: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: (components["schemas"]["SetupRevision"] & components["schemas"]["RetentionBody"])[];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    listLegalHolds: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
                state?: "in-force" | "lifted";
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["LegalHold"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    setLegalHold: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["LegalHoldBody"];
            };
        };
        responses: {
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["LegalHold"];
                };
            };
        };
    };
    getLegalHold: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["LegalHold"];
                };
            };
        };
    };
    liftLegalHold: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["LiftBody"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["LegalHold"];
                };
            };
        };
    };
    getTrace: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                trace: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/csv": string;
                };
            };
        };
    };
    putTrace: {
        parameters: {
            query?: {
                unit?: "C" | "mV";
                type?: "K" | "J" | "T";
                coldJunctionC?: number;
            };
            header?: never;
            path: {
                trace: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "text/csv": string;
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["KeptTrace"];
                };
            };
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["KeptTrace"];
                };
            };
        };
    };
    analyse: {
        parameters: {
            query: {
                liquidusC: number;
                soakFromC?: number;
                soakToC?: number;
                rampWindowS?: number;
                spreadOver?: string;
            };
            header?: never;
            path: {
                trace: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["TraceAnalysis"];
                };
            };
        };
    };
    getCurve: {
        parameters: {
            query?: {
                points?: number;
                liquidusC?: number;
            };
            header?: never;
            path: {
                trace: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["TraceCurve"];
                };
            };
        };
    };
    getLogCheckpoint: {
        parameters: {
            query?: never;
            header?: {
                "If-None-Match"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/plain": string;
                };
            };
        };
    };
    getLogKeys: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["LogKeys"];
                };
            };
        };
    };
    proveConsistency: {
        parameters: {
            query: {
                from: number;
                to: number;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ConsistencyProof"];
                };
            };
        };
    };
    proveInclusion: {
        parameters: {
            query: {
                assembly?: string;
                serial?: string;
                device?: string;
                seq: number;
                size?: number;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SizedInclusionProof"];
                };
            };
        };
    };
    listLogLeaves: {
        parameters: {
            query?: {
                from?: number;
                limit?: number;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["LogLeaves"];
                };
            };
        };
    };
    listCensuses: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Census"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    getCensus: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                day: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CensusWithGroups"];
                };
            };
        };
    };
    listAccessRecords: {
        parameters: {
            query?: {
                limit?: number;
                cursor?: string;
                from?: string;
                to?: string;
                kind?: "refused" | "signed-in" | "signed-out" | "key-issued" | "key-revoked" | "account-changed" | "setup-changed";
                caller?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["AccessRecord"][];
                        nextCursor: string | null;
                    };
                };
            };
        };
    };
    getVerifyPage: {
        parameters: {
            query?: never;
            header?: {
                "If-None-Match"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/html": string;
                };
            };
        };
    };
    openDesk: {
        parameters: {
            query?: never;
            header?: {
                "If-None-Match"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: never;
    };
    getDesk: {
        parameters: {
            query?: never;
            header?: {
                "If-None-Match"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/html": string;
                    "*/*": string;
                };
            };
        };
    };
    getDeskPart: {
        parameters: {
            query?: never;
            header?: {
                "If-None-Match"?: string;
            };
            path: {
                path: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/html": string;
                    "*/*": string;
                };
            };
        };
    };
    follow: {
        parameters: {
            query?: never;
            header?: {
                "Last-Event-ID"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/event-stream": components["schemas"]["StreamMessage"][];
                };
            };
        };
    };
    getLive: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Live"];
                };
            };
        };
    };
    getReady: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Readiness"];
                };
            };
        };
    };
    getMetrics: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/plain": string;
                };
            };
        };
    };
    getOpenApi: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": Record<string, never>;
                };
            };
        };
    };
    getAsyncApi: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": Record<string, never>;
                };
            };
        };
    };
}
